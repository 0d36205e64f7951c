import { expect, test } from 'vitest';
import { imageFromWall } from '../../../src/core/camera/camera.ts';
import {
  CAMERA_PARAMETERS,
  packCamera,
  projectPoint,
  unpackCamera,
} from '../../../src/core/camera/projection.ts';
import { makeRandomView, startChance } from './madePhoto.ts';

const STEPS = [0.5, 0.5, 0.5, 1e-5, 1e-5, 1e-5, 1e-5, 1e-5, 1e-2];

test('image and derivatives agree with imageFromWall and its central differences, on 40 random views', () => {
  const chance = startChance(21);
  for (let trial = 0; trial < 40; trial++) {
    const { camera: plain, places } = makeRandomView(chance, 2);
    const camera = { ...plain, k2: 0.02 * Math.sin(trial) };
    const point = { ...places[0]!, out: chance.uniform(-80, 10) };
    const image = projectPoint(camera, point)!;
    expect(image.u).toBeCloseTo(imageFromWall(camera, point).u, 9);
    expect(image.v).toBeCloseTo(imageFromWall(camera, point).v, 9);
    const parameters = packCamera(camera);
    STEPS.forEach((step, k) => {
      const at = (sign: number) => {
        const moved = Float64Array.from(parameters);
        moved[k]! += sign * step;
        return imageFromWall(unpackCamera(moved, camera), point);
      };
      const [low, high] = [at(-1), at(1)];
      const scale = Math.hypot(image.byCamera[k]!, image.byCamera[CAMERA_PARAMETERS + k]!);
      expect(Math.abs((high.u - low.u) / (2 * step) - image.byCamera[k]!)).toBeLessThan(1e-6 * scale);
      expect(Math.abs((high.v - low.v) / (2 * step) - image.byCamera[CAMERA_PARAMETERS + k]!)).toBeLessThan(
        1e-6 * scale,
      );
    });
    (['along', 'up', 'out'] as const).forEach((axis, k) => {
      const at = (sign: number) => imageFromWall(camera, { ...point, [axis]: point[axis] + sign * 0.5 });
      expect(at(1).u - at(-1).u).toBeCloseTo(image.byPoint[k]!, 5);
      expect(at(1).v - at(-1).v).toBeCloseTo(image.byPoint[3 + k]!, 5);
    });
  }
});

test('derivatives hold at no rotation at all, where the series takes over', () => {
  const camera = unpackCamera([1000, 1200, 2500, 0, 0, 0, Math.log(2900), -0.01, 0.004], {
    widthPx: 4000,
    heightPx: 3000,
  });
  const point = { along: 400, up: 800, out: -30 };
  const image = projectPoint(camera, point)!;
  for (let k = 3; k < 6; k++) {
    const at = (sign: number) => {
      const moved = packCamera(camera);
      moved[k]! += sign * 1e-5;
      return imageFromWall(unpackCamera(moved, camera), point);
    };
    expect((at(1).u - at(-1).u) / 2e-5).toBeCloseTo(image.byCamera[k]!, 3);
    expect((at(1).v - at(-1).v) / 2e-5).toBeCloseTo(image.byCamera[CAMERA_PARAMETERS + k]!, 3);
  }
});

test('a camera packed and unpacked is the same camera', () => {
  const camera = { ...makeRandomView(startChance(3), 2).camera, k2: 0.003 };
  const back = unpackCamera(packCamera(camera), camera);
  expect(back.focalPx).toBeCloseTo(camera.focalPx, 9);
  expect({ ...back, focalPx: 0 }).toEqual({ ...camera, focalPx: 0 });
});

test('behind the camera there is no projection', () => {
  const { camera } = makeRandomView(startChance(3), 2);
  const { along, up, out } = camera.position;
  expect(projectPoint(camera, { along, up, out: out + 500 })).toBeNull();
});
