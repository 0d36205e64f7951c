import { describe, expect, test } from 'vitest';
import { traceLevels } from '../../src/draw/isobands.ts';
import { measureArea, openRings } from '../../src/draw/rings.ts';

const frame = { left: 0, right: 1000, bottom: 0, top: 600 };
const stepMm = 50;
const grid = (value: (along: number, up: number) => number) => {
  const [nx, ny] = [21, 13];
  const values = Float64Array.from({ length: nx * ny }, (_, k) =>
    value((k % nx) * stepMm, Math.floor(k / nx) * stepMm),
  );
  return { stepMm, nx, ny, values };
};
const slope = (along: number) => along / 100;
const areaAt = (level: number, given: ReturnType<typeof grid>, within = frame) =>
  measureArea(traceLevels(given, [level], within)[0]!.rings);

describe('a plane slope, whose contours are known', () => {
  test.each([0.3, 2, 5, 9.999])("the part at or above %d is exact up to the wall's edges", (level) => {
    expect(areaAt(level, grid(slope))).toBeCloseTo((1000 - 100 * level) * 600, 6);
  });

  test('a contour reaches floor and ceiling, square to them', () => {
    const { rings } = traceLevels(grid(slope), [4.2], frame)[0]!;
    const lines = openRings(rings, frame);
    expect(lines).toHaveLength(1);
    const ends = [lines[0]![0]!, lines[0]!.at(-1)!];
    expect(ends.map(([along]) => along)).toEqual([420, 420].map((at) => expect.closeTo(at, 6) as number));
    expect(ends.map(([, up]) => up).sort((a, b) => a - b)).toEqual(
      [0, 600].map((at) => expect.closeTo(at, 6) as number),
    );
  });

  test('corners are not cut: a level below everything is the whole wall', () => {
    expect(areaAt(-1, grid(slope))).toBeCloseTo(1000 * 600, 6);
  });

  test('a level at the least value, and one at zero, are the whole wall; one above all is empty', () => {
    expect(areaAt(0, grid(slope))).toBeCloseTo(1000 * 600, 6);
    expect(traceLevels(grid(slope), [10.001], frame)[0]!.rings).toEqual([]);
  });

  test('levels below zero work as others do', () => {
    expect(
      areaAt(
        -4,
        grid((along) => along / 100 - 8),
      ),
    ).toBeCloseTo(600 * 600, 6);
  });
});

// a contour of chords across cells of h lies within the circle by at most (sqrt(2) h)^2 / 8r: area less by h^2 / 2r^2
test('a round hill: the area within a contour is that of the circle, less what its chords cut off', () => {
  const hill = grid((along, up) => 400 - Math.hypot(along - 500, up - 300));
  for (const radius of [120, 200, 280]) {
    const share = areaAt(400 - radius, hill) / (Math.PI * radius * radius);
    expect(share).toBeGreaterThan(1 - 0.5 * (stepMm / radius) ** 2);
    expect(share).toBeLessThan(1);
  }
});

describe('nodes without wall', () => {
  const without = (isGone: (along: number, up: number) => boolean) =>
    grid((along, up) => (isGone(along, up) ? NaN : slope(along)));
  const places: [string, (along: number, up: number) => boolean][] = [
    ['in the lower left corner', (along, up) => along === 0 && up === 0],
    ['in the upper left corner', (along, up) => along === 0 && up === 600],
    ['in the upper right corner', (along, up) => along === 1000 && up === 600],
    ['on the left edge', (along, up) => along === 0 && up === 300],
    ['on the right edge', (along, up) => along === 1000 && up === 300],
    ['on the floor', (along, up) => along === 500 && up === 0],
    ['along the ceiling', (_, up) => up === 600],
    ['inside', (along, up) => Math.abs(along - 500) < 140 && Math.abs(up - 300) < 140],
  ];
  test.each(places)('%s leave the contour whole', (_, isGone) => {
    for (const level of [-3, 0, 5]) {
      const traced = traceLevels(without(isGone), [level], frame)[0]!;
      const area = measureArea(traced.rings);
      const whole = Math.min(1000, 1000 - 100 * level) * 600;
      expect(Math.abs(area - whole)).toBeLessThan(0.01 * 600000);
      expect(openRings(traced.rings, frame)).toHaveLength(level > 0 ? 1 : 0);
    }
  });

  test('nothing known: nothing drawn', () => {
    expect(traceLevels(grid(() => NaN), [1, 2], frame)).toEqual([{ level: 1, rings: [] }, { level: 2, rings: [] }]); // prettier-ignore
  });
});

describe('a wall that the grid does not fit', () => {
  test.each([
    ['the grid ends short of the wall', 1030, 620],
    ['the grid reaches beyond the wall', 980, 570],
  ])('%s: bands end at its edges', (_, right, top) => {
    const wall = { left: 0, right, bottom: 0, top };
    const { rings } = traceLevels(grid(slope), [4], wall)[0]!;
    const points = rings.flat();
    expect(Math.max(...points.map(([along]) => along))).toBeCloseTo(right, 6);
    expect(Math.max(...points.map(([, up]) => up))).toBeCloseTo(top, 6);
    expect(Math.min(...points.map(([, up]) => up))).toBeCloseTo(0, 6);
    expect(measureArea(rings)).toBeCloseTo((right - 400) * top, 6);
  });
});
