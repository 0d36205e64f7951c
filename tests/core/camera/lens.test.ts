import fc from 'fast-check';
import { expect, test } from 'vitest';
import { imageFromWall } from '../../../src/core/camera/camera.ts';
import {
  distortionFactor,
  findFold,
  liesWithinFold,
  undistortRadius,
} from '../../../src/core/camera/lens.ts';
import { projectPoint } from '../../../src/core/camera/projection.ts';
import { aimCamera } from './madePhoto.ts';

test('undistorting undoes distorting, up to the fold of a barrel lens', () => {
  const radius = fc.double({ min: 0, max: 1.5, noNaN: true });
  const k1 = fc.double({ min: -0.12, max: 0.12, noNaN: true });
  fc.assert(
    fc.property(radius, k1, (r, k) => {
      expect(undistortRadius(r * distortionFactor(r, k), k)).toBeCloseTo(r, 9);
    }),
    { seed: 6, numRuns: 300 },
  );
});

test('so it does with both terms, in bounds that Newton alone would leave', () => {
  const radius = fc.double({ min: 0, max: 1.4, noNaN: true });
  const term = fc.double({ min: -0.25, max: 0.25, noNaN: true });
  fc.assert(
    fc.property(radius, term, term, (r, k1, k2) => {
      fc.pre(r * r < 0.98 * findFold(k1, k2));
      expect(undistortRadius(r * distortionFactor(r, k1, k2), k1, k2)).toBeCloseTo(r, 8);
    }),
    { seed: 7, numRuns: 500 },
  );
});

test('the fold is where the distorted radius stops growing, and only there', () => {
  const term = fc.double({ min: -0.3, max: 0.3, noNaN: true });
  const grows = (r: number, k1: number, k2: number) =>
    (r + 1e-6) * distortionFactor(r + 1e-6, k1, k2) > r * distortionFactor(r, k1, k2);
  fc.assert(
    fc.property(term, term, (k1, k2) => {
      const fold = Math.sqrt(findFold(k1, k2));
      for (let r = 0.01; r < Math.min(0.999 * fold, 3); r += 0.05) expect(grows(r, k1, k2)).toBe(true);
      if (fold < 30) expect(grows(1.001 * fold, k1, k2)).toBe(false);
    }),
    { seed: 8, numRuns: 300 },
  );
  expect(findFold(0.1, 0)).toBe(Infinity);
  expect(findFold(-0.1, 0.01)).toBe(Infinity);
  expect(findFold(0.1, -0.01)).toBeCloseTo((0.3 + Math.sqrt(0.29)) / 0.1, 9);
});

test('beyond the fold there is no ray and no image', () => {
  // k1 = -0.1 folds at r = 1.826, where r_d = 1.217
  expect(liesWithinFold(1.82, -0.1)).toBe(true);
  expect(liesWithinFold(1.83, -0.1)).toBe(false);
  expect(undistortRadius(1.21, -0.1)).toBeCloseTo(1.69, 1);
  expect(undistortRadius(1.22, -0.1)).toBeNaN();
  const camera = aimCamera({ along: 0, up: 1000, out: 1000 }, { along: 0, up: 1000 }, { k1: -0.1 });
  expect(imageFromWall(camera, { along: 1700, up: 1000, out: 0 }).u).toBeGreaterThan(4000);
  // without the fold this would come back into the picture
  expect(imageFromWall(camera, { along: 3000, up: 1000, out: 0 }).u).toBeNaN();
  expect(projectPoint(camera, { along: 3000, up: 1000, out: 0 })).toBeNull();
});
