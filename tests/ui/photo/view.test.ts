import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  centreView,
  clampView,
  fitView,
  NEAREST_SCALE,
  pointOfSpot,
  revealPoint,
  spotOfPoint,
  zoomView,
} from '../../../src/ui/photo/view.ts';

const length = fc.integer({ min: 10, max: 5000 });
const size = fc.record({ width: length, height: length });
const at = fc.record({ x: fc.integer({ min: 0, max: 800 }), y: fc.integer({ min: 0, max: 600 }) });
const seeded = { seed: 41, numRuns: 200 };

test('the whole picture lies in the middle of its frame and touches it on one axis', () => {
  fc.assert(
    fc.property(size, size, (picture, frame) => {
      const { scale, x, y } = fitView(picture, frame);
      expect(2 * x + picture.width * scale).toBeCloseTo(frame.width, 6);
      expect(2 * y + picture.height * scale).toBeCloseTo(frame.height, 6);
      expect(Math.min(Math.abs(x), Math.abs(y))).toBeLessThan(1e-6);
    }),
    seeded,
  );
});

test('image point and place in the frame are inverse; the corner of the picture is half a pixel before its first', () => {
  fc.assert(
    fc.property(size, size, at, (picture, frame, spot) => {
      const view = fitView(picture, frame);
      const back = spotOfPoint(view, pointOfSpot(view, spot));
      expect(back.x).toBeCloseTo(spot.x, 6);
      expect(back.y).toBeCloseTo(spot.y, 6);
    }),
    seeded,
  );
  expect(spotOfPoint({ scale: 4, x: 0, y: 0 }, { u: -0.5, v: -0.5 })).toEqual({ x: 0, y: 0 });
});

test('zooming keeps the image point under the finger where the edges allow, and never loses the picture', () => {
  const picture = { width: 4000, height: 3000 };
  const frame = { width: 800, height: 600 };
  const factor = fc.double({ min: 0.2, max: 5, noNaN: true });
  fc.assert(
    fc.property(fc.array(fc.tuple(at, factor), { maxLength: 12 }), (steps) => {
      let view = fitView(picture, frame);
      for (const [spot, by] of steps) {
        const before = pointOfSpot(view, spot);
        view = zoomView(view, spot, by, picture, frame);
        expect(view.scale).toBeLessThanOrEqual(NEAREST_SCALE);
        expect(view.scale).toBeGreaterThanOrEqual(0.2 - 1e-9);
        expect(clampView(view, picture, frame)).toEqual(view);
        const free = {
          ...view,
          x: spot.x - (before.u + 0.5) * view.scale,
          y: spot.y - (before.v + 0.5) * view.scale,
        };
        const held = clampView(free, picture, frame);
        expect(view.x).toBeCloseTo(held.x, 6);
        expect(view.y).toBeCloseTo(held.y, 6);
      }
    }),
    seeded,
  );
});

test('a point is brought to the middle, at the picture’s edge as near to it as can be', () => {
  const picture = { width: 4000, height: 3000 };
  const frame = { width: 800, height: 600 };
  const whole = fitView(picture, frame);
  const middle = centreView(whole, { u: 2000, v: 1000 }, 4, picture, frame);
  const { x, y } = spotOfPoint(middle, { u: 2000, v: 1000 });
  expect([x, y, middle.scale]).toEqual([400, 300, 4]);
  const corner = spotOfPoint(centreView(whole, { u: 0, v: 0 }, 4, picture, frame), { u: 0, v: 0 });
  expect([corner.x, corner.y]).toEqual([2, 2]);
  expect(revealPoint(middle, { u: 2010, v: 1000 }, 24, picture, frame)).toBe(middle);
  expect(
    spotOfPoint(revealPoint(middle, { u: 3000, v: 1000 }, 24, picture, frame), { u: 3000, v: 1000 }).x,
  ).toBe(400);
});
