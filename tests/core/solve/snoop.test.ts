import { describe, expect, test } from 'vitest';
import { imageFromWall } from '../../../src/core/camera/camera.ts';
import type { Solution } from '../../../src/core/results.ts';
import type { Photo, Survey } from '../../../src/core/survey.ts';
import { makeSurvey as makeDense, type MadeSurvey, type SurveyOptions } from '../../truth/survey.ts';
import type { WallKind } from '../../truth/wall.ts';
import { solveRoughly } from '../../truth/solveRoughly.ts';

/** A point every 4 px: the mistakes looked for are in whole lines, marks and readings. */
const makeSurvey = (seed: number, kind: WallKind, options: SurveyOptions = {}) =>
  makeDense(seed, kind, { everyPx: 4, ...options });

const namesOf = ({ warnings }: Solution) =>
  warnings.map(({ code, subject }) => `${code} ${subject}`).filter((name) => /suspect|left_out/.test(name));
const errorsAlong = ({ profiles }: Solution, { truth }: MadeSurvey) =>
  profiles.flatMap(({ axis, atMm, s, out, sigma }) =>
    Array.from(s, (place, k) => ({
      error: out[k]! - (axis === 'level' ? truth(place, atMm) : truth(atMm, place)),
      sigma: sigma[k]!,
    })),
  );
const share95 = (solution: Solution, made: MadeSurvey) => {
  const sizes = errorsAlong(solution, made).map(({ error }) => Math.abs(error));
  return sizes.sort((a, b) => a - b)[Math.floor(0.95 * sizes.length)]!;
};
const shareWithin = (solution: Solution, made: MadeSurvey, sigmas: number) => {
  const errors = errorsAlong(solution, made);
  return errors.filter(({ error, sigma }) => Math.abs(error) < sigmas * sigma).length / errors.length;
};
const changeReading = (survey: Survey, index: number, byMm: number): Survey => ({
  ...survey,
  readings: survey.readings.map((r, k) => (k === index ? { ...r, distance: r.distance + byMm } : r)),
});
const changePhoto = (survey: Survey, index: number, change: (photo: Photo) => Photo): Survey => ({
  ...survey,
  photos: survey.photos.map((photo, k) => (k === index ? change(photo) : photo)),
});

describe('a reading typed wrong by 10 mm', () => {
  const eight = [200, 1250, 2350, 3400].flatMap((along) => [300, 2150].map((up) => [along, up] as const));

  test('among eight is named alone, left out, and does not bend the wall', () => {
    const made = makeSurvey(21, 'plaster', { readingPlaces: eight });
    const solution = solveRoughly(changeReading(made.survey, 2, 10));
    expect(namesOf(solution)).toEqual(['reading_suspect r3']);
    expect(share95(solution, made)).toBeLessThan(1.8);
    const { w, residualMm } = solution.residuals.find(({ subject }) => subject === 'r3')!;
    expect(Math.abs(w)).toBeGreaterThan(3.29);
    expect(Math.abs(residualMm + 10)).toBeLessThan(3);
  });
  test('among six may not be told from its neighbours: all are named, and the sigma covers each of them being wrong', () => {
    const made = makeSurvey(21, 'plaster');
    for (const wrong of [0, 2]) {
      const solution = solveRoughly(changeReading(made.survey, wrong, 10));
      expect(namesOf(solution)).toContain(`reading_suspect r${wrong + 1}`);
      expect(shareWithin(solution, made, 2)).toBeGreaterThan(0.9);
    }
  });
});

test('a line given a height wrong by 100 mm is named and finds its height again', () => {
  const made = makeSurvey(21, 'plaster');
  const solution = solveRoughly(
    changePhoto(made.survey, 1, (photo) => ({
      ...photo,
      lines: photo.lines.map((line) => ({ ...line, sheet: { ...line.sheet, at: line.sheet.at! + 100 } })),
    })),
  );
  expect(namesOf(solution)).toEqual(['line_suspect l750']);
  expect(share95(solution, made)).toBeLessThan(1.8);
});

test('a laser bumped between photographs (one line tilted by 4 mm/m) is named', () => {
  const made = makeSurvey(21, 'plaster');
  const camera = made.cameras[2]!;
  const survey = changePhoto(made.survey, 2, (photo) => ({
    ...photo,
    lines: photo.lines.map((line) => ({
      ...line,
      points: line.points.map((point, k) => {
        const along = (k / (line.points.length - 1)) * 3600;
        const up = line.sheet.at! + 0.004 * (along - 1800);
        return { ...point, ...imageFromWall(camera, { along, up, out: made.truth(along, up) }) };
      }),
    })),
  }));
  const solution = solveRoughly(survey);
  expect(namesOf(solution)).toEqual(['line_suspect l1250']);
  const others = { ...solution, profiles: solution.profiles.filter(({ line }) => line !== 'l1250') };
  expect(share95(others, made)).toBeLessThan(1.8);
});

test('two marks swapped: the photo is named, the wall stays', () => {
  const made = makeSurvey(21, 'plaster');
  const survey = changePhoto(made.survey, 3, (photo) => {
    const [a, b, c, d] = photo.marks as [
      Photo['marks'][0],
      Photo['marks'][0],
      Photo['marks'][0],
      Photo['marks'][0],
    ];
    return { ...photo, marks: [a, { ...b, u: c.u, v: c.v }, { ...c, u: b.u, v: b.v }, d] };
  });
  const solution = solveRoughly(survey);
  expect(namesOf(solution)).toContain('marks_suspect f4');
  expect(namesOf(solution).every((name) => name.endsWith(' f4'))).toBe(true);
  expect(share95(solution, made)).toBeLessThan(2.5);
});

test('a twisted wall is not taken for wrong readings', () => {
  for (const seed of [3, 9]) {
    const made = makeSurvey(seed, 'twisted');
    const solution = solveRoughly(made.survey);
    expect(namesOf(solution).filter((name) => name.startsWith('reading'))).toEqual([]);
    expect(share95(solution, made)).toBeLessThan(1.8);
  }
});

test('where nothing tells the lens, its sigma stays near what was known before', () => {
  const made = makeSurvey(21, 'plaster', { levels: [1200], plumbs: [] });
  const { phones } = solveRoughly(made.survey);
  expect(phones[0]!.sigma).toBeGreaterThan(0.004);
  expect(phones[0]!.sigma).toBeLessThan(0.0101);
  expect(Math.abs(phones[0]!.k1 - made.k1)).toBeLessThan(3 * phones[0]!.sigma);
});
