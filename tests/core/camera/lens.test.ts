import fc from 'fast-check';
import { expect, test } from 'vitest';
import { imageFromWall } from '../../../src/core/camera/camera.ts';
import { distortionFactor, liesWithinFold, undistortRadius } from '../../../src/core/camera/lens.ts';
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
