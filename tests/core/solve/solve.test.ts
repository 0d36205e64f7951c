import { describe, expect, test } from 'vitest';
import { Refused } from '../../../src/core/refusal.ts';
import type { Solution } from '../../../src/core/results.ts';
import { solveSurvey } from '../../../src/core/solve/solve.ts';
import type { Photo, Survey } from '../../../src/core/survey.ts';
import { makeSurvey, type MadeSurvey } from '../../truth/survey.ts';
import { solveRoughly } from '../../truth/solveRoughly.ts';
import type { WallKind } from '../../truth/wall.ts';

const exact = { readingNoiseMm: 0, markNoisePx: 0, lineNoisePx: 0, standNoiseMm: 0, focalRatio: 1 };

/** Errors along the lines (mm); with a slip, the least within it along the line: a joint's edge may lie that far off. */
const errorsAlong = ({ profiles }: Solution, { truth }: MadeSurvey, slipMm = 0) =>
  profiles.flatMap(({ axis, atMm, s, out }) =>
    Array.from(s, (place, k) =>
      [-slipMm, -slipMm / 2, 0, slipMm / 2, slipMm]
        .map((slip) => out[k]! - (axis === 'level' ? truth(place + slip, atMm) : truth(atMm, place + slip)))
        .reduce((least, error) => (Math.abs(error) < Math.abs(least) ? error : least)),
    ),
  );
const errorsOver = ({ surface }: Solution, { truth }: MadeSurvey) =>
  Array.from(surface.out, (out, at) => ({
    error: out - truth((at % surface.nx) * surface.stepMm, Math.floor(at / surface.nx) * surface.stepMm),
    sigma: surface.sigma[at]!,
  })).filter(({ error }) => !Number.isNaN(error));
const share95 = (errors: readonly number[]) =>
  errors.map(Math.abs).sort((a, b) => a - b)[Math.floor(0.95 * errors.length)]!;
const codesOf = ({ warnings }: Solution) => warnings.map(({ code, subject }) => `${code} ${subject}`);
const refusalOf = (survey: Survey) => {
  try {
    solveSurvey(survey);
  } catch (thrown) {
    if (thrown instanceof Refused) return thrown.refusal;
    throw thrown;
  }
  return null;
};
const changePhoto = (survey: Survey, index: number, change: (photo: Photo) => Photo): Survey => ({
  ...survey,
  photos: survey.photos.map((photo, k) => (k === index ? change(photo) : photo)),
});

describe('exact evidence', () => {
  const ruled = makeSurvey(3, 'plaster', exact);
  // a rule's end bears on the high spot under it: here the readings are of the very spots
  const readings = ruled.survey.readings.map((reading) => ({
    ...reading,
    distance: -ruled.truth(reading.along, reading.up),
  }));
  const made = { ...ruled, survey: { ...ruled.survey, readings } };
  const solution = solveSurvey(made.survey);

  test('gives the wall along the lines, the lens and the cameras', () => {
    expect(share95(errorsAlong(solution, made))).toBeLessThan(0.25);
    expect(Math.abs(solution.phones[0]!.k1 - made.k1)).toBeLessThan(0.0002);
    solution.photos.forEach(({ position }, k) => {
      const { along, up, out } = made.cameras[k]!.position;
      expect(Math.hypot(position.along - along, position.up - up, position.out - out)).toBeLessThan(5);
    });
  });
  test('warns of nothing that was measured', () => {
    expect(codesOf(solution).filter((code) => code.includes('suspect'))).toEqual([]);
  });
});

// The layout whose reachable accuracy is known from rendered photographs: 8 photos, 4 marks of 1 px, stand 10 mm,
// EXIF focal length off by 1.7 %, lens unknown, 6 readings of 0.7 mm.
describe('evidence as users bring it', () => {
  const kinds = ['plaster', 'leaning', 'bulged', 'brick'] as const satisfies readonly WallKind[];
  const cases = kinds.map((kind, k) => {
    const made = makeSurvey(11 + k, kind);
    return { kind, made, solution: solveSurvey(made.survey) };
  });

  // on brick a reading stands on the high spot of one brick (each 1 mm about the wall), which shifts the whole wall
  const limitMm = { plaster: 1.8, leaning: 1.8, bulged: 1.8, brick: 3.5 };
  test.each(cases)(
    '$kind: 95 % along the lines within the limit, k1 within 0.004',
    ({ kind, made, solution }) => {
      const slipMm = kind === 'brick' ? 3 : 0;
      expect(share95(errorsAlong(solution, made, slipMm))).toBeLessThan(limitMm[kind]);
      expect(share95(errorsAlong(solution, made, slipMm))).toBeGreaterThan(0.2);
      if (kind !== 'brick') expect(Math.abs(solution.phones[0]!.k1 - made.k1)).toBeLessThan(0.004);
      expect(Math.abs(solution.phones[0]!.k1 - made.k1)).toBeLessThan(3 * solution.phones[0]!.sigma);
    },
  );
  test.each(cases)('$kind: nothing that is right is called wrong', ({ solution }) => {
    expect(codesOf(solution).filter((code) => code.includes('suspect'))).toEqual([]);
  });
  test('sigma covers the truth, neither too small nor too large', () => {
    const all = cases.flatMap(({ made, solution }) => errorsOver(solution, made));
    const within = (factor: number) =>
      all.filter(({ error, sigma }) => Math.abs(error) < factor * sigma).length / all.length;
    expect(within(2)).toBeGreaterThan(0.88);
    expect(within(2)).toBeLessThan(0.995);
    expect(within(1)).toBeGreaterThan(0.55);
    expect(within(1)).toBeLessThan(0.9);
  });
  test('the same survey gives the same result; the order of photos, points and readings is nothing to it', () => {
    const { made, solution } = cases[0]!;
    expect(solveSurvey(made.survey)).toEqual(solution);
    const turned = solveSurvey({
      ...made.survey,
      readings: made.survey.readings.toReversed(),
      photos: made.survey.photos.toReversed(),
    });
    turned.surface.out.forEach((out, at) =>
      expect(Math.abs(out - solution.surface.out[at]!)).toBeLessThan(0.1),
    );
  });
});

test('the step of the surface changes nothing of what is found wrong, of the tests, of steps of the face and of the scale', () => {
  const { survey } = makeSurvey(32, 'plaster', { everyPx: 6 });
  const readings = survey.readings.map((reading, k) => ({
    ...reading,
    distance: reading.distance + (k === 1 ? 40 : 0),
  }));
  const [fine, rough] = [undefined, 50].map((stepMm) =>
    solveSurvey({ ...survey, readings }, undefined, stepMm),
  );
  const tell = ({ warnings, residuals, setbacks, unevenness }: Solution) => ({
    residuals,
    setbacks,
    unevenness,
    warnings: warnings.filter(({ code }) => code !== 'surface_uncertain'),
  });
  expect(codesOf(fine!).some((code) => code.startsWith('reading_suspect'))).toBe(true);
  expect(tell(rough!)).toEqual(tell(fine!));
  expect([fine!.surface.stepMm, rough!.surface.stepMm]).toEqual([25, 50]);
});

describe('missing and odd evidence', () => {
  const made = makeSurvey(31, 'plaster', { openings: [{ along: 1500, up: 900, width: 700, height: 1200 }] });
  const { survey } = made;

  test('no wall is invented in an opening', () => {
    const { surface } = solveSurvey(survey);
    const at = (along: number, up: number) => surface.out[(up / 25) * surface.nx + along / 25]!;
    expect(at(1800, 1500)).toBeNaN();
    expect(at(1525, 925)).toBeNaN();
    expect(at(1400, 1500)).not.toBeNaN();
    expect(at(1800, 2200)).not.toBeNaN();
  });
  test('readings alone give a surface with a large sigma', () => {
    const solution = solveRoughly({ ...survey, photos: [] });
    expect(solution.profiles).toEqual([]);
    const { sigma } = solution.surface;
    expect(sigma.reduce((most, each) => (each > most ? each : most), 0)).toBeGreaterThan(3);
  });
  test('no readings: the mean wall plane is out = 0, and that is said', () => {
    const solution = solveRoughly({ ...survey, readings: [] });
    expect(codesOf(solution)).toContain('no_readings wall');
    const known = Array.from(solution.surface.out).filter((out) => !Number.isNaN(out));
    expect(known.reduce((sum, out) => sum + out, 0) / known.length).toBeCloseTo(0, 6);
  });
  test('a photo without points: an empty profile and no_line', () => {
    const solution = solveRoughly(
      changePhoto(survey, 0, (photo) => ({
        ...photo,
        lines: photo.lines.map((line) => ({ ...line, points: [] })),
      })),
    );
    expect(codesOf(solution)).toContain('no_line f1');
    expect(solution.profiles.find(({ photo }) => photo === 'f1')!.s.length).toBe(0);
  });
  test('nothing_measured, readings_few, readings_in_line, line_height_missing, marks_at_one_place', () => {
    expect(refusalOf({ ...survey, readings: [], photos: [] })).toEqual({ code: 'nothing_measured' });
    expect(refusalOf({ ...survey, readings: survey.readings.slice(0, 2) })).toEqual({
      code: 'readings_few',
      count: 2,
    });
    const inLine = survey.readings.map((reading, k) => ({
      ...reading,
      along: 500 * k + 100,
      up: 1000 + 2 * k,
    }));
    expect(refusalOf({ ...survey, readings: inLine })).toEqual({ code: 'readings_in_line', count: 6 });
    const only = { ...survey, readings: [], photos: [survey.photos[2]!] };
    const noHeight = changePhoto(only, 0, (photo) => ({
      ...photo,
      lines: photo.lines.map((line) => ({ ...line, sheet: { ...line.sheet, at: null } })),
    }));
    expect(refusalOf(noHeight)).toMatchObject({ code: 'line_height_missing', photo: 'f3' });
    const twice = changePhoto(only, 0, (photo) => ({
      ...photo,
      marks: photo.marks.map((mark, k) => (k === 1 ? { ...photo.marks[0]!, along: mark.along } : mark)),
    }));
    expect(refusalOf(twice)).toMatchObject({ code: 'marks_at_one_place', photo: 'f3', first: 0, second: 1 });
  });
});
