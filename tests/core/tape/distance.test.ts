import { expect, test } from 'vitest';
import { imageFromWall, type Camera } from '../../../src/core/camera/camera.ts';
import { factorCholesky } from '../../../src/core/camera/dense.ts';
import {
  CAMERA_PARAMETERS,
  K2_PARAMETER,
  packCamera,
  unpackCamera,
} from '../../../src/core/camera/projection.ts';
import { resectPhoto } from '../../../src/core/camera/resect.ts';
import type { Photo } from '../../../src/core/survey.ts';
import { measureDistance } from '../../../src/core/tape/distance.ts';
import { seedRandom } from '../../truth/random.ts';
import { makeSurvey } from '../../truth/survey.ts';

const made = makeSurvey(11, 'plaster', { markNoisePx: 0, standNoiseMm: 0, focalRatio: 1, truth: () => -60 });
const camera: Camera = made.cameras[0]!;
const photo: Photo = { ...made.survey.photos[0]!, lines: [], tapes: [] };
const seenAt = (along: number, up: number, out = -60) => imageFromWall(camera, { along, up, out });
const resection = resectPhoto(
  photo,
  { k1: made.k1, sigma: 0.002 },
  { markOutMm: photo.marks.map(() => -60) },
);
const exact = { camera, covariance: new Float64Array(CAMERA_PARAMETERS ** 2) };

test('a distance on the wall comes out as it is, with its level and plumb parts', () => {
  const measured = measureDistance(exact, seenAt(300, 400), seenAt(1500, 1300), -60)!;
  expect(measured.distanceMm).toBeCloseTo(1500, 6);
  expect(measured.levelMm).toBeCloseTo(1200, 6);
  expect(measured.plumbMm).toBeCloseTo(900, 6);
  expect(measured.from.along).toBeCloseTo(300, 6);
});

test('a photo without a line, by its marks alone, measures within its sigma', () => {
  const measured = measureDistance(resection, seenAt(300, 300), seenAt(3200, 800), -60)!;
  const truth = Math.hypot(2900, 500);
  expect(measured.sigmaMm).toBeGreaterThan(0.3);
  expect(measured.sigmaMm).toBeLessThan(12);
  expect(Math.abs(measured.distanceMm - truth)).toBeLessThan(3 * measured.sigmaMm);
});

test('its sigma is that of many cameras drawn from the covariance and many taps', () => {
  const [from, to] = [seenAt(500, 300), seenAt(2600, 900)];
  const spread = { tapPx: 1.5, outMm: 6 };
  const { sigmaMm, distanceMm } = measureDistance(resection, from, to, -60, spread)!;
  const random = seedRandom(5);
  // k2 is held, so that its row and column are nothing
  const free = K2_PARAMETER;
  const rows = resection.covariance.filter((_, at) => at % CAMERA_PARAMETERS < free);
  const factor = factorCholesky(rows.subarray(0, free * free), free)!;
  const start = packCamera(resection.camera);
  const misses: number[] = [];
  for (let turn = 0; turn < 4000; turn++) {
    const draw = Float64Array.from({ length: free }, () => random.normal());
    const drawn = start.map((value, i) => {
      let sum = value;
      for (let k = 0; k <= i && i < free; k++) sum += factor[i * free + k]! * draw[k]!;
      return sum;
    });
    const other = unpackCamera(drawn, camera);
    const tap = (at: { u: number; v: number }) => ({
      u: at.u + spread.tapPx * random.normal(),
      v: at.v + spread.tapPx * random.normal(),
    });
    // each end on its own offset: two measurements that share the first end's plane
    const exactly = { camera: other, covariance: new Float64Array(CAMERA_PARAMETERS ** 2) };
    const one = measureDistance(exactly, tap(from), tap(to), -60 + spread.outMm * random.normal())!;
    const two = measureDistance(exactly, tap(from), tap(to), -60 + spread.outMm * random.normal())!;
    const level = two.to.along - one.from.along;
    const plumb = two.to.up - one.from.up;
    misses.push(Math.hypot(level, plumb) - distanceMm);
  }
  const sd = Math.sqrt(misses.reduce((sum, x) => sum + x * x, 0) / misses.length);
  expect(sd / sigmaMm).toBeGreaterThan(0.94);
  expect(sd / sigmaMm).toBeLessThan(1.06);
});

test('two taps at one place are no distance but have a sigma', () => {
  const measured = measureDistance(exact, seenAt(900, 500), seenAt(900, 500), -60)!;
  expect(measured.distanceMm).toBe(0);
  expect(measured.sigmaMm).toBeGreaterThan(0.5);
});

test('a place above the horizon is on no wall', () => {
  const turned = { ...camera, rotationRad: [0, 1.2, 0] as const };
  const away = [0, camera.widthPx - 1].map((u) =>
    measureDistance({ ...exact, camera: turned }, { u, v: 1500 }, { u: camera.widthPx / 2, v: 1500 }, -60),
  );
  expect(away).toContain(null);
});
