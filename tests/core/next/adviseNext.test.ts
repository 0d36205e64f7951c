import { describe, expect, test } from 'vitest';
import { adviseNext, weighCandidate } from '../../../src/core/next/adviseNext.ts';
import { canRead, listCandidates } from '../../../src/core/next/candidates.ts';
import { formJoint } from '../../../src/core/next/jointWall.ts';
import { gatherSpots } from '../../../src/core/next/spots.ts';
import { measureBed } from '../../../src/core/lining/bed.ts';
import { solveAndKeep } from '../../../src/core/solve/solve.ts';
import type { Survey } from '../../../src/core/survey.ts';
import { makeSurvey } from '../../truth/survey.ts';
import { findBedPlane } from './wallPlane.ts';

const small = { width: 2400, height: 1800, everyPx: 6 } as const;

function advise(survey: Survey) {
  const { solution, kept } = solveAndKeep(survey);
  const bedPlane = findBedPlane(survey, solution.surface);
  return { solution, kept, bedPlane, next: adviseNext(kept, solution.surface, bedPlane) };
}

/** A wall out of true at the back: the bed decision is open where it is not measured. */
const sloping = (along: number, up: number) => -60 - 0.006 * along - 0.004 * up + 3 * Math.sin(along / 350);

describe('what is advised', () => {
  test('lies in the one large part of the wall where nothing was measured', () => {
    const corners = [0, 200, 400].flatMap((up) =>
      [100, 900, 1700, 2300].map((along) => [along, up + 50] as const),
    );
    const { survey } = makeSurvey(5, 'plaster', {
      ...small,
      levels: [150, 350],
      plumbs: [],
      readingPlaces: [...corners, [1200, 1750]],
      truth: sloping,
    });
    const { next } = advise(survey);
    expect(next.enough).toBe(false);
    expect(next.best!.up).toBeGreaterThan(600);
    expect(next.bestReading!.up).toBeGreaterThan(600);
    expect(next.best!.doubtfulM2After).toBeLessThan(0.95 * next.doubtfulM2);
    expect(next.best!.sigmaRmsAfterMm).toBeLessThan(next.sigmaRmsMm);
  });

  test('is a line rather than a reading where much of the wall is open, and says what its photo must show', () => {
    const { survey } = makeSurvey(6, 'bulged', { ...small, levels: [200], plumbs: [] });
    const { next } = advise(survey);
    expect(next.best).toEqual(next.bestLine);
    expect(next.bestLine!.doubtfulM2After).toBeLessThan(next.bestReading!.doubtfulM2After);
    const { from, to } = next.bestLine!.stretch!;
    expect(to - from).toBeGreaterThan(1000);
    expect(next.bestReading!.stretch).toBeNull();
  });

  test('is the same the second time', () => {
    const { survey } = makeSurvey(7, 'twisted', { ...small, levels: [900], plumbs: [1200] });
    const { kept, solution, bedPlane, next } = advise(survey);
    expect(adviseNext(kept, solution.surface, bedPlane)).toEqual(next);
  });

  test('is nothing on a wall that was measured all over', () => {
    const { survey } = makeSurvey(8, 'plaster', {
      ...small,
      levels: [150, 450, 750, 1050, 1350, 1650],
      plumbs: [100, 500, 900, 1300, 1700, 2100, 2300],
      // a ridge at the left end that the boards rest on, and 8 mm behind it all the rest
      truth: (along) => -60 + 8 * Math.exp(-((along / 120) ** 2)),
    });
    const { next } = advise(survey);
    expect(next).toMatchObject({ best: null, enough: true });
    expect(next.sigmaRmsMm).toBeLessThan(1);
  });

  test('without any reading is a line, for one reading alone says nothing', () => {
    const { survey } = makeSurvey(9, 'bulged', {
      ...small,
      levels: [200],
      plumbs: [1200],
      readingPlaces: [],
    });
    const { next } = advise(survey);
    expect(next.bestReading).toBeNull();
    expect(next.bestLine).not.toBeNull();
    expect(next.sigmaRmsMm).toBeLessThan(20);
  });

  test('of readings alone has lines among it, seen as by any phone', () => {
    const places = [0.1, 0.5, 0.9].flatMap((x) => [0.1, 0.9].map((y) => [2400 * x, 1800 * y] as const));
    const { survey } = makeSurvey(10, 'bulged', { ...small, levels: [], plumbs: [], readingPlaces: places });
    const { next } = advise(survey);
    expect(next.bestLine!.doubtfulM2After).toBeLessThan(next.bestReading!.doubtfulM2After);
  });
});

describe('candidates', () => {
  const openings = [{ along: 900, up: 600, width: 700, height: 800 }];
  const boxes = [{ along: 300, up: 300, width: 80, height: 80, proud: 0 }];
  const { survey } = makeSurvey(11, 'plaster', { ...small, levels: [300], plumbs: [400], openings, boxes });
  const { kept, solution, bedPlane } = advise(survey);
  const joint = formJoint(kept);
  const candidates = listCandidates(joint, kept);

  test('are never in an opening or on a box, never out of reach', () => {
    const readings = candidates.filter(({ kind }) => kind === 'reading');
    expect(readings.length).toBeGreaterThan(40);
    for (const { along, up } of readings) {
      expect(along > 880 && along < 1620 && up > 580 && up < 1420, `${along} ${up}`).toBe(false);
      expect(along > 280 && along < 400 && up > 280 && up < 400).toBe(false);
    }
    expect(canRead(survey.wall, 1200, 1000)).toBe(false);
    expect(canRead(survey.wall, 340, 340)).toBe(false);
    expect(canRead({ ...survey.wall, height: 3500 }, 2000, 3000)).toBe(false);
    expect(canRead(survey.wall, 2000, 1000)).toBe(true);
  });

  test('each lower the doubt or leave it, none raises it', () => {
    const surface = solution.surface;
    const bed = measureBed(surface, bedPlane);
    const spots = gatherSpots(
      surface,
      bed,
      survey.wall,
      survey.lining.bed,
      joint.model.scale.roughMm,
      joint.model.grid,
      4,
    );
    const now = spots.doubt.reduce((sum, doubt, k) => sum + doubt * spots.areaM2[k]!, 0);
    for (const candidate of candidates) {
      const after = weighCandidate(joint, candidate, spots).doubtfulM2;
      expect(after).toBeLessThan(now + 1e-3);
      expect(after).toBeGreaterThan(0);
    }
  });

  test('on a long wall are photographs side by side where a room does not let one further back', () => {
    const wide = makeSurvey(12, 'plaster', {
      width: 9000,
      height: 2400,
      levels: [600],
      plumbs: [1500],
      everyPx: 12,
    });
    const photos = wide.survey.photos.map((photo) =>
      photo.lines[0]!.sheet.axis === 'plumb' ? photo : { ...photo, leftOut: true },
    );
    const long = solveAndKeep({ ...wide.survey, photos }).kept;
    const levels = listCandidates(formJoint(long), long).filter(({ kind }) => kind === 'level');
    const heights = new Set(levels.map(({ up }) => up));
    expect(levels.length).toBe(2 * heights.size);
    for (const { stretch } of levels) expect(stretch!.to - stretch!.from).toBeLessThan(5500);
  });
});

test('a wall and survey the same from left to right give the same worth to either side', () => {
  const even = (along: number, up: number) =>
    -60 + 4 * Math.cos((along - 1200) / 400) + 0.003 * up + 2 * Math.cos(up / 300);
  const places = [100, 2300].flatMap((along) => [150, 900, 1650].map((up) => [along, up] as const));
  const { survey } = makeSurvey(13, 'plaster', {
    ...small,
    levels: [],
    plumbs: [],
    readingPlaces: [...places, [1200, 150], [1200, 1650]],
    truth: even,
    readingNoiseMm: 0,
  });
  const readings = survey.readings.map((reading) => ({ ...reading, sigma: 0.7 }));
  const { kept, solution, bedPlane } = advise({ ...survey, readings });
  const joint = formJoint(kept);
  const bed = measureBed(solution.surface, bedPlane);
  const spots = gatherSpots(solution.surface, bed, survey.wall, survey.lining.bed, 0.3, joint.model.grid);
  const worth = new Map(
    listCandidates(joint, kept).map((each) => [
      `${each.kind} ${each.along} ${each.up}`,
      weighCandidate(joint, each, spots).sigmaRmsMm,
    ]),
  );
  let pairs = 0;
  for (const [name, own] of worth) {
    const [kind, along, up] = name.split(' ');
    const other = worth.get(`${kind} ${2400 - Number(along)} ${up}`);
    if (kind === 'level' || other === undefined) continue;
    pairs++;
    expect(Math.abs(own - other), name).toBeLessThan(2e-4 * own);
  }
  expect(pairs).toBeGreaterThan(60);
});
