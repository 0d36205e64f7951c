import fc from 'fast-check';
import { expect, test } from 'vitest';
import { imageFromWall, rayFromImage, wallFromImageOnPlane } from '../../../src/core/camera/camera.ts';
import {
  cameraFromWallRotation,
  rotationFromVector,
  vectorFromRotation,
} from '../../../src/core/camera/frames.ts';
import { aimCamera } from './madePhoto.ts';

const vector = fc.tuple(
  ...[0, 1, 2].map(() => fc.double({ min: -1.5, max: 1.5, noNaN: true })),
) as fc.Arbitrary<[number, number, number]>;

test('a rotation is orthonormal with determinant 1, and keeps its own axis', () => {
  fc.assert(
    fc.property(vector, (v) => {
      const r = rotationFromVector(v);
      for (let i = 0; i < 3; i++) {
        for (let j = 0; j < 3; j++) {
          const dot = [0, 1, 2].reduce((sum, k) => sum + r[3 * i + k]! * r[3 * j + k]!, 0);
          expect(dot).toBeCloseTo(i === j ? 1 : 0, 12);
        }
        const kept = [0, 1, 2].reduce((sum, k) => sum + r[3 * i + k]! * v[k]!, 0);
        expect(kept).toBeCloseTo(v[i]!, 12);
      }
    }),
    { seed: 1, numRuns: 200 },
  );
});

test('vectorFromRotation undoes rotationFromVector', () => {
  fc.assert(
    fc.property(vector, (v) => {
      vectorFromRotation(rotationFromVector(v)).forEach((value, k) => expect(value).toBeCloseTo(v[k]!, 9));
    }),
    { seed: 2, numRuns: 200 },
  );
});

test('a quarter turn about forward takes right to down', () => {
  const r = rotationFromVector([0, 0, Math.PI / 2]);
  expect([r[0], r[3], r[6]].map((value) => Math.round(value * 1e12) / 1e12)).toEqual([0, 1, 0]);
});

test('facing the wall squarely, right is along, down is the floor, forward is into the wall', () => {
  const r = cameraFromWallRotation([0, 0, 0]);
  expect(r).toEqual([1, 0, 0, 0, -1, 0, 0, 0, -1]);
  const camera = aimCamera({ along: 1000, up: 1500, out: 2000 }, { along: 1000, up: 1500 }, { k1: 0 });
  expect(imageFromWall(camera, { along: 1000, up: 1500, out: 0 })).toEqual({ u: 1999.5, v: 1499.5 });
  // 100 mm to the right and 50 mm down at 2000 mm with 2900 px: 145 px and 72.5 px
  const image = imageFromWall(camera, { along: 1100, up: 1450, out: 0 });
  expect(image.u).toBeCloseTo(1999.5 + 145, 9);
  expect(image.v).toBeCloseTo(1499.5 + 72.5, 9);
});

test('a camera aimed at a place sees it near its middle', () => {
  const camera = aimCamera({ along: 500, up: 1900, out: 2500 }, { along: 1800, up: 1200 });
  const image = imageFromWall(camera, { along: 1800, up: 1200, out: 0 });
  expect(Math.abs(image.u - 1999.5)).toBeLessThan(60);
  expect(Math.abs(image.v - 1499.5)).toBeLessThan(60);
});

test('a ray comes back to the image point it left from, lens included', () => {
  const pixel = fc.record({
    u: fc.double({ min: 0, max: 3999, noNaN: true }),
    v: fc.double({ min: 0, max: 2999, noNaN: true }),
  });
  const k1 = fc.double({ min: -0.08, max: 0.08, noNaN: true });
  fc.assert(
    fc.property(pixel, k1, (point, k) => {
      const camera = aimCamera({ along: 500, up: 1900, out: 2500 }, { along: 1500, up: 1200 }, { k1: k });
      const spot = wallFromImageOnPlane(camera, point, -40);
      fc.pre(Number.isFinite(spot.along));
      const back = imageFromWall(camera, spot);
      expect(back.u).toBeCloseTo(point.u, 7);
      expect(back.v).toBeCloseTo(point.v, 7);
    }),
    { seed: 3, numRuns: 200 },
  );
});

test('behind the camera there is no image, and a ray away from the wall meets nothing', () => {
  const camera = aimCamera({ along: 0, up: 1000, out: 2000 }, { along: 0, up: 1000 });
  expect(imageFromWall(camera, { along: 0, up: 1000, out: 2500 })).toEqual({ u: NaN, v: NaN });
  const away = { ...camera, rotationRad: [0, Math.PI, 0] as const };
  expect(rayFromImage(away, { u: 1999.5, v: 1499.5 }).out).toBeCloseTo(1, 12);
  expect(wallFromImageOnPlane(away, { u: 1999.5, v: 1499.5 }).along).toBeNaN();
});
