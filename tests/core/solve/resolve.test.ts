import { beforeAll, describe, expect, test } from 'vitest';
import type { Solution } from '../../../src/core/results.ts';
import { resolveSurvey } from '../../../src/core/solve/resolve.ts';
import { solveAndKeep, solveSurvey, type Kept } from '../../../src/core/solve/solve.ts';
import type { LinePoint, Photo, Reading, Survey } from '../../../src/core/survey.ts';
import { makeSurvey } from '../../truth/survey.ts';

const { survey } = makeSurvey(4, 'plaster', {
  width: 1600,
  height: 1000,
  levels: [150, 500, 850],
  plumbs: [300, 1300],
  everyPx: 6,
});
let kept: Kept;
let first: Solution;
beforeAll(() => {
  ({ kept, solution: first } = solveAndKeep(survey));
});

const editPhoto = (of: Survey, k: number, edit: (photo: Photo) => Photo): Survey => ({
  ...of,
  photos: of.photos.map((photo, i) => (i === k ? edit(photo) : photo)),
});
const editPoints = (of: Survey, k: number, edit: (point: LinePoint, at: number) => LinePoint): Survey =>
  editPhoto(of, k, (photo) => ({
    ...photo,
    lines: photo.lines.map((line) => ({ ...line, points: line.points.map(edit) })),
  }));
const editReading = (of: Survey, k: number, edit: (reading: Reading) => Reading): Survey => ({
  ...of,
  readings: of.readings.map((reading, i) => (i === k ? edit(reading) : reading)),
});
const moveMark = (of: Survey, byPx: number): Survey =>
  editPhoto(of, 1, (photo) => ({
    ...photo,
    marks: photo.marks.map((mark, i) => (i === 2 ? { ...mark, u: mark.u + byPx, v: mark.v - byPx } : mark)),
  }));

/** Greatest differences in sigmas of one solution from another: of the surface, of the profiles; and of sigma itself, relative. */
function compare(a: Solution, b: Solution): { mean: number; profile: number; sigma: number } {
  let [mean, profile, sigma] = [0, 0, 0];
  b.surface.sigma.forEach((own, at) => {
    if (Number.isNaN(own)) return;
    mean = Math.max(mean, Math.abs(a.surface.out[at]! - b.surface.out[at]!) / own);
    sigma = Math.max(sigma, Math.abs(a.surface.sigma[at]! / own - 1));
  });
  b.profiles.forEach((each, k) => {
    expect(a.profiles[k]!.s.length).toBe(each.s.length);
    each.sigma.forEach((own, at) => {
      profile = Math.max(profile, Math.abs(a.profiles[k]!.out[at]! - each.out[at]!) / own);
      sigma = Math.max(sigma, Math.abs(a.profiles[k]!.sigma[at]! / own - 1));
    });
  });
  return { mean, profile, sigma };
}

const named = ({ warnings }: Solution) => warnings.map(({ code, subject }) => `${code} ${subject}`).sort();
const wrong = (of: Survey) =>
  editReading(of, 4, (reading) => ({ ...reading, distance: reading.distance + 12 }));

const edits: readonly (readonly [string, () => Survey])[] = [
  ['nothing', () => survey],
  [
    'one point moved',
    () =>
      editPoints(survey, 1, (point, at) =>
        at === 200 ? { ...point, v: point.v + 3, state: 'moved' } : point,
      ),
  ],
  [
    'a stretch switched off',
    () => editPoints(survey, 2, (point, at) => (at > 150 && at < 160 ? { ...point, state: 'off' } : point)),
  ],
  [
    'a point added',
    () =>
      editPhoto(survey, 0, (photo) => ({
        ...photo,
        lines: photo.lines.map((line) => ({
          ...line,
          points: line.points.flatMap((point, at): LinePoint[] =>
            at === 400 ? [point, { ...point, u: point.u + 2, state: 'added' }] : [point],
          ),
        })),
      })),
  ],
  ['a reading changed by 1 mm', () => editReading(survey, 0, (r) => ({ ...r, distance: r.distance + 1 }))],
  ['a reading left out by hand', () => editReading(survey, 1, (reading) => ({ ...reading, leftOut: true }))],
  ['a reading wrong by 12 mm', () => wrong(survey)],
  [
    'a reading typed',
    () => ({ ...survey, readings: [...survey.readings, { ...survey.readings[2]!, id: 'r9', along: 830 }] }),
  ],
  ['a mark moved by a pixel', () => moveMark(survey, 1)],
  ['a mark moved by 9 px', () => moveMark(survey, 9)],
  [
    'a stand measured anew',
    () =>
      editPhoto(survey, 0, (photo) => ({ ...photo, stand: { ...photo.stand, off: photo.stand.off! + 6 } })),
  ],
];

describe('solved again as a small change, as near as makes no odds to solved afresh', () => {
  test.each(edits)('%s', (_, make) => {
    const edited = make();
    const again = resolveSurvey(kept, edited)!.solution;
    const afresh = solveSurvey(edited);
    const { mean, profile, sigma } = compare(again, afresh);
    expect(mean).toBeLessThan(0.15);
    expect(profile).toBeLessThan(0.15);
    expect(sigma).toBeLessThan(0.1);
    expect(named(again)).toEqual(named(afresh));
    expect(again.residuals.map(({ state }) => state)).toEqual(afresh.residuals.map(({ state }) => state));
  });
});

test('nothing changed is the same result, to rounding', () => {
  const { mean, profile, sigma } = compare(resolveSurvey(kept, survey)!.solution, first);
  expect(Math.max(mean, profile, sigma)).toBeLessThan(1e-6);
});

test('a reading that is now wrong is named, one that was mended comes back', () => {
  const broken = solveAndKeep(wrong(survey));
  expect(named(broken.solution)).toContain('reading_suspect r5');
  const mended = resolveSurvey(broken.kept, survey)!.solution;
  expect(named(mended)).toEqual(named(first));
  const { mean, sigma } = compare(mended, first);
  expect(mean).toBeLessThan(0.15);
  expect(sigma).toBeLessThan(0.1);
  expect(named(resolveSurvey(kept, wrong(survey))!.solution)).toContain('reading_suspect r5');
});

test('edit after edit goes on from the last full solve, whatever lay between', () => {
  const between = resolveSurvey(kept, wrong(survey))!;
  expect(between.kept.base).toBe(kept);
  const twice = resolveSurvey(between.kept, moveMark(survey, 1))!.solution;
  const once = resolveSurvey(kept, moveMark(survey, 1))!.solution;
  expect(twice).toEqual(once);
});

test('the same edit twice gives the same figures, as a copy of the survey does', () => {
  const edited = moveMark(survey, 2);
  const once = resolveSurvey(kept, edited)!.solution;
  expect(resolveSurvey(kept, structuredClone(edited))!.solution).toEqual(once);
});

describe('what is too much for it is left to a full solve', () => {
  const tooMuch: readonly (readonly [string, Survey])[] = [
    ['another wall', { ...survey, wall: { ...survey.wall, width: 1700 } }],
    ['a photo less', { ...survey, photos: survey.photos.slice(1) }],
    ['a photo left out', editPhoto(survey, 0, (photo) => ({ ...photo, leftOut: true }))],
    ['a mark less', editPhoto(survey, 0, (photo) => ({ ...photo, marks: photo.marks.slice(1) }))],
    [
      'a mark left out',
      editPhoto(survey, 0, (p) => ({ ...p, marks: p.marks.map((m) => ({ ...m, leftOut: true })) })),
    ],
    ['a mark so wrong that its photo can no longer take part', moveMark(survey, 40)],
    ['a reading less', { ...survey, readings: survey.readings.slice(1) }],
    ['a lens that is known', { ...survey, phones: [{ ...survey.phones[0]!, lens: { k1: 0, sigma: 1e-4 } }] }],
    [
      'a line at another height',
      editPhoto(survey, 0, (p) => ({
        ...p,
        lines: p.lines.map((l) => ({ ...l, sheet: { ...l.sheet, at: 160 } })),
      })),
    ],
    ['a line looked for anew', editPoints(survey, 0, (point) => ({ ...point, v: point.v + 0.1 }))],
    [
      'no readings',
      { ...survey, readings: survey.readings.map((reading) => ({ ...reading, leftOut: true })) },
    ],
  ];
  test.each(tooMuch)('%s', (_, edited) => expect(resolveSurvey(kept, edited)).toBeNull());
});

test('too few readings are refused as they are afresh', () => {
  const few = { ...survey, readings: survey.readings.map((r, k) => (k < 2 ? r : { ...r, leftOut: true })) };
  expect(() => resolveSurvey(kept, few)).toThrow(
    expect.objectContaining({ refusal: { code: 'readings_few', count: 2 } }),
  );
});
