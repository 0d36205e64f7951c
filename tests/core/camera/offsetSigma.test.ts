import { describe, expect, test } from 'vitest';
import type { Camera } from '../../../src/core/camera/camera.ts';
import { predictOffsetSigma } from '../../../src/core/camera/offsetSigma.ts';
import { resectPhoto } from '../../../src/core/camera/resect.ts';
import { triangulateLine } from '../../../src/core/camera/triangulate.ts';
import type { LineAxis } from '../../../src/core/survey.ts';
import {
  aimCamera,
  FOUR_PLACES,
  makePhoto,
  measureStand,
  startChance,
  takeLine,
  takeMarks,
} from './madePhoto.ts';

const camera = aimCamera({ along: 1300, up: 1900, out: 2600 }, { along: 1800, up: 1200 }, { k1: 0 });
/** Relief of +-20 mm in turn, at the multiples of 40 mm where points are taken. */
const reliefNear = (place: number) => (Math.round(place / 40) % 2 === 0 ? 20 : -20);

/** Errors (mm) of resected noisy photographs along one line, as a whole and after a shift and a tilt of the line. */
function measureErrors(truth: Camera, axis: LineAxis, at: number, holdK1: boolean, trials: number) {
  const chance = startChance(9);
  const line = takeLine(truth, axis, at, {
    relief: (along, up) => reliefNear(axis === 'level' ? along : up),
    stepMm: 40,
  });
  const lens = { k1: 0, sigma: 0.01 };
  let [alone, shaped, count] = [0, 0, 0];
  for (let trial = 0; trial < trials; trial++) {
    const k1 = holdK1 ? 0 : chance.normal(0.01);
    const shot = { ...truth, k1 };
    const seen = takeLine(shot, axis, at, {
      relief: (along, up) => reliefNear(axis === 'level' ? along : up),
      stepMm: 40,
    });
    const photo = makePhoto(shot, {
      marks: takeMarks(shot, FOUR_PLACES, { chance }),
      stand: measureStand(shot, ['off', 'up'], { chance }),
      lines: [seen],
      focal35Mm: (shot.focalPx / 4000) * 36 * Math.exp(chance.normal(0.04)),
    });
    const { camera: got } = resectPhoto(photo, lens, { holdK1 });
    const { s, out } = triangulateLine(got, seen);
    const errors = out.map((value, i) => value - reliefNear(s[i]!));
    const n = errors.length;
    const mean = s.reduce((sum, value) => sum + value, 0) / n;
    const shift = errors.reduce((sum, value) => sum + value, 0) / n;
    const tilt =
      errors.reduce((sum, value, i) => sum + value * (s[i]! - mean), 0) /
      s.reduce((sum, value) => sum + (value - mean) ** 2, 0);
    errors.forEach((value, i) => {
      alone += value * value;
      shaped += (value - shift - tilt * (s[i]! - mean)) ** 2;
      count += 1;
    });
  }
  return { line, lens, alone: Math.sqrt(alone / count), shaped: Math.sqrt(shaped / count) };
}

const photo = makePhoto(camera, { marks: takeMarks(camera, FOUR_PLACES) });

describe('stated sigma against the errors of 150 noisy photographs, from both sides', () => {
  test.each([
    ['level', 1000, true],
    ['level', 1000, false],
    ['plumb', 2400, false],
  ] as const)('%s line at %i, k1 held: %s', (axis, at, holdK1) => {
    const { line, lens, alone, shaped } = measureErrors(camera, axis, at, holdK1, 150);
    const stated = predictOffsetSigma(resectPhoto({ ...photo, lines: [line] }, lens, { holdK1 }), line);
    // 150 trials of a few unknowns: the sampled sigma is good to about 6 %
    expect(stated.aloneMm / alone).toBeGreaterThan(0.8);
    expect(stated.aloneMm / alone).toBeLessThan(1.25);
    const shape = Math.hypot(stated.reliefMm, stated.lensMm);
    expect(shape / shaped).toBeGreaterThan(0.75);
    expect(shape / shaped).toBeLessThan(1.35);
    if (holdK1) expect(stated.lensMm).toBe(0);
  });
});

test('the usual photo, four marks clicked to 1 px and a stand to 10 mm, is far from weak', () => {
  const line = takeLine(camera, 'level', 1000);
  const resection = resectPhoto({ ...photo, lines: [line] }, { k1: 0, sigma: 0.01 });
  const { aloneMm, reliefMm, lensMm, pointMm } = predictOffsetSigma(resection, line);
  expect(reliefMm).toBeGreaterThan(0.05);
  expect(reliefMm).toBeLessThan(0.4);
  // METHOD of one photograph: an unknown lens alone is 1-2 mm of false bow from end to end, about a third of it as rms
  expect(lensMm).toBeGreaterThan(0.2);
  expect(lensMm).toBeLessThan(1.5);
  expect(pointMm).toBeCloseTo(0.1 * 2.6 * (2600 / 2900) * (2600 / 2600), 0);
  expect(aloneMm).toBeGreaterThan(1);
  expect(aloneMm).toBeLessThan(12);
});

test('before the line is found its stretch in the picture stands in for its points', () => {
  const line = takeLine(camera, 'level', 1000);
  const resection = resectPhoto(photo, { k1: 0, sigma: 0.01 });
  const found = predictOffsetSigma(resection, line);
  const before = predictOffsetSigma(resection, { ...line, points: [] });
  expect(before.reliefMm / found.reliefMm).toBeGreaterThan(0.7);
  expect(before.reliefMm / found.reliefMm).toBeLessThan(1.6);
  expect(before.pointMm / found.pointMm).toBeGreaterThan(1.2);
});

test('standing nearer to the sheet makes it worse', () => {
  const resection = resectPhoto(photo, { k1: 0, sigma: 0.01 });
  const [far, near] = [700, 1500].map((at) => predictOffsetSigma(resection, takeLine(camera, 'level', at)));
  // 1200 mm aside against 400
  expect(near!.pointMm / far!.pointMm).toBeGreaterThan(2.5);
  expect(near!.pointMm / far!.pointMm).toBeLessThan(3.5);
  expect(near!.reliefMm).toBeGreaterThan(1.5 * far!.reliefMm);
});

test('a line that the picture does not show has no expected sigma', () => {
  const resection = resectPhoto(photo, { k1: 0, sigma: 0.01 });
  const line = takeLine(camera, 'level', 9000);
  expect(predictOffsetSigma(resection, line).reliefMm).toBeNaN();
});
