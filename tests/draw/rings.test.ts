import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { clipRing, hatchRings, measureArea, openRings, type Point, type Ring } from '../../src/draw/rings.ts';

const frame = { left: 0, right: 10, bottom: 0, top: 6 };
const rect = (left: number, bottom: number, right: number, top: number): Ring => [
  [left, bottom],
  [right, bottom],
  [right, top],
  [left, top],
];

describe('clipping', () => {
  test('a ring inside stays, a ring outside is gone', () => {
    expect(clipRing(rect(1, 1, 3, 3), frame)).toEqual(rect(1, 1, 3, 3));
    expect(clipRing(rect(11, 1, 13, 3), frame)).toEqual([]);
  });

  test('law: the area of a clipped rectangle is that of the overlap', () => {
    const at = fc.integer({ min: -20, max: 30 });
    fc.assert(
      fc.property(at, at, at, at, (a, b, c, d) => {
        const [left, right, bottom, top] = [Math.min(a, b), Math.max(a, b), Math.min(c, d), Math.max(c, d)];
        const wide = Math.max(0, Math.min(right, 10) - Math.max(left, 0));
        const high = Math.max(0, Math.min(top, 6) - Math.max(bottom, 0));
        const clipped = clipRing(rect(left, bottom, right, top), frame);
        expect(clipped.length > 0 ? measureArea([clipped]) : 0).toBeCloseTo(wide * high, 9);
      }),
      { seed: 11, numRuns: 60 },
    );
  });

  test('a slanted edge is cut where it crosses the frame', () => {
    // the triangle's slanted side meets the top edge at x = 4 and the left edge at y = 2
    const ring = clipRing([[-2, 0], [-2, 12], [10, 12]], frame); // prettier-ignore
    expect(measureArea([ring])).toBeCloseTo((4 * 4) / 2, 9);
  });
});

describe('opened rings', () => {
  test('what lies on the frame is left out', () => {
    const half: Ring = [[5, 0], [10, 0], [10, 6], [7, 6]]; // prettier-ignore
    expect(openRings([half], frame)).toEqual([[[7, 6], [5, 0]]]); // prettier-ignore
  });

  test('a ring wholly inside is one closed line, wherever it starts', () => {
    expect(openRings([rect(1, 1, 3, 3)], frame)).toEqual([[...rect(1, 1, 3, 3), [1, 1]]]);
  });

  test("a line through the ring's first point is one line", () => {
    const ring: Ring = [[5, 3], [4, 6], [0, 6], [0, 0], [6, 0]]; // prettier-ignore
    expect(openRings([ring], frame)).toEqual([[[6, 0], [5, 3], [4, 6]]]); // prettier-ignore
  });

  test('the frame itself is no line', () => {
    expect(openRings([rect(0, 0, 10, 6)], frame)).toEqual([]);
  });
});

describe('hatching', () => {
  const length = ([a, b]: [Point, Point]) => Math.hypot(b[0] - a[0], b[1] - a[1]);
  const hole = rect(4, 2, 6, 4);

  test.each([0, Math.PI / 4, -Math.PI / 4])(
    'length times spacing is the area, a hole left out (angle %d)',
    (angle) => {
      const pieces = hatchRings([rect(0, 0, 10, 6), hole], 0.01, angle);
      const total = pieces.reduce((sum, piece) => sum + length(piece), 0);
      expect(total * 0.01).toBeGreaterThan(0.995 * 56);
      expect(total * 0.01).toBeLessThan(1.005 * 56);
    },
  );

  test('no piece enters the hole', () => {
    for (const [a, b] of hatchRings([rect(0, 0, 10, 6), hole], 0.37, Math.PI / 4)) {
      const [x, y] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      expect(x > 4 && x < 6 && y > 2 && y < 4).toBe(false);
    }
  });

  test('nothing to hatch gives no lines', () => {
    expect(hatchRings([], 1, 0)).toEqual([]);
  });
});
