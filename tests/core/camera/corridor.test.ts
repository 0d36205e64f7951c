import { describe, expect, test } from 'vitest';
import type { ImagePoint } from '../../../src/core/camera/frames.ts';
import { predictCorridor } from '../../../src/core/camera/corridor.ts';
import { aimCamera, makeRandomView, startChance, takeLine, WALL } from './madePhoto.ts';

/** Distance (px) of a point from a polyline. */
function distanceFrom(path: readonly ImagePoint[], { u, v }: ImagePoint): number {
  let least = Infinity;
  for (let i = 1; i < path.length; i++) {
    const [a, b] = [path[i - 1]!, path[i]!];
    const [du, dv] = [b.u - a.u, b.v - a.v];
    const t = Math.min(1, Math.max(0, ((u - a.u) * du + (v - a.v) * dv) / (du * du + dv * dv)));
    least = Math.min(least, Math.hypot(a.u + t * du - u, a.v + t * dv - v));
  }
  return least;
}

describe('every line of a wall within the range lies in the corridor, and the corridor is no wider than it must be', () => {
  test.each(['level', 'plumb'] as const)('%s, 20 random views', (axis) => {
    const chance = startChance(55);
    let compared = 0;
    for (let trial = 0; trial < 20; trial++) {
      const { camera } = makeRandomView(chance, 2);
      const at =
        axis === 'level' ? camera.position.up - camera.position.out / 3 : camera.position.along + 900;
      const { path, halfWidthPx } = predictCorridor(camera, { axis, at }, WALL, { from: -100, to: -20 }, 4);
      let widest = 0;
      for (const edge of [-100, -60, -20]) {
        const line = takeLine(camera, axis, at, { relief: () => edge, stepMm: 50 });
        // the wall's own ends, where the middle of the corridor stops a little earlier or later, are left out
        for (const point of line.points.slice(3, -3)) {
          const distance = distanceFrom(path, point);
          expect(distance).toBeLessThan(halfWidthPx);
          widest = Math.max(widest, distance);
          compared += 1;
        }
      }
      if (widest > 0) expect(widest).toBeGreaterThan(0.5 * (halfWidthPx - 4));
    }
    expect(compared).toBeGreaterThan(500);
  });
});

const camera = aimCamera({ along: 1800, up: 1900, out: 1500 }, { along: 1800, up: 1200 });

test('the path is cut just beyond the picture, and runs along the wall', () => {
  const { path } = predictCorridor(camera, { axis: 'level', at: 1000 }, WALL, { from: -90, to: -30 }, 5);
  expect(path.length).toBeGreaterThan(20);
  expect(path.length).toBeLessThan(97);
  expect(path[0]!.u).toBeLessThan(0);
  expect(path[0]!.u).toBeGreaterThan(-150);
  expect(path[path.length - 1]!.u).toBeGreaterThan(3999);
  for (let i = 1; i < path.length; i++) expect(path[i]!.u).toBeGreaterThan(path[i - 1]!.u);
});

test('a plumb line runs from the floor up', () => {
  const { path } = predictCorridor(camera, { axis: 'plumb', at: 2300 }, WALL, { from: -90, to: -30 }, 5);
  for (let i = 1; i < path.length; i++) expect(path[i]!.v).toBeLessThan(path[i - 1]!.v);
});

test('a line that is not in the picture has no corridor', () => {
  const found = predictCorridor(camera, { axis: 'level', at: 9000 }, WALL, { from: -90, to: -30 }, 5);
  expect(found).toEqual({ path: [], halfWidthPx: 0 });
});

test('the width grows with the range', () => {
  const width = (to: number) =>
    predictCorridor(camera, { axis: 'level', at: 1000 }, WALL, { from: -90, to }, 5).halfWidthPx - 5;
  expect(width(-90)).toBeCloseTo(0, 9);
  expect(width(-30) / width(-60)).toBeGreaterThan(1.9);
});
