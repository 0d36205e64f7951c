import { expect, test } from 'vitest';
import { expectPhoto } from '../../../src/core/camera/expectation.ts';
import { triangulateLine } from '../../../src/core/camera/triangulate.ts';
import { aimCamera, takeLine } from './madePhoto.ts';

const plan = { offMm: 2400, asideMm: 800, focal35Mm: 26.1, longSidePx: 4000, pointSigmaPx: 0.1 };

test('what is expected of a square view is what its triangulation gives straight ahead', () => {
  const camera = aimCamera({ along: 1800, up: 1800, out: 2400 }, { along: 1800, up: 1800 }, { k1: 0 });
  const line = takeLine(camera, 'level', 1000, { stepMm: 10 });
  const { s, outPerPx } = triangulateLine(camera, line);
  const ahead = s.findIndex((place) => Math.abs(place - 1800) < 5);
  expect(expectPhoto(plan).outPerPx).toBeCloseTo(outPerPx[ahead]!, 9);
  expect(expectPhoto(plan).mmPerPx).toBeCloseTo(2400 / 2900, 9);
  expect(expectPhoto(plan).pointMm).toBeCloseTo(0.1 * outPerPx[ahead]!, 9);
});

test('a third of the distance to the side is enough, less is not, and the side does not matter', () => {
  expect(expectPhoto(plan).asideEnough).toBe(true);
  expect(expectPhoto({ ...plan, asideMm: -800 })).toEqual(expectPhoto(plan));
  expect(expectPhoto({ ...plan, asideMm: 790 }).asideEnough).toBe(false);
  expect(expectPhoto({ ...plan, asideMm: 0 }).outPerPx).toBe(Infinity);
});
