import { expect, test } from 'vitest';
import { coverLine, listHoles } from '../../../src/core/line/coverage.ts';

const along = (from: number, to: number, step = 2) =>
  Array.from({ length: (to - from) / step + 1 }, (_, k) => from + k * step);

test('a line seen from end to end covers the wall, one seen on half of it half', () => {
  expect(coverLine(along(0, 3600), 3600, [])).toEqual({ share: 1, gaps: [] });
  const half = coverLine(along(0, 1800), 3600, []);
  expect(half.share).toBeCloseTo(0.5, 9);
  expect(half.gaps).toEqual([{ from: 1800, to: 3600 }]);
});

test('openings are no wall, and a gap over one is none', () => {
  const holes = [{ from: 1000, to: 2000 }];
  const seen = coverLine([...along(0, 1000), ...along(2000, 3600)], 3600, holes);
  expect(seen).toEqual({ share: 1, gaps: [] });
  expect(coverLine(along(0, 1000), 3600, holes).share).toBeCloseTo(1000 / 2600, 9);
  expect(coverLine(along(0, 900), 3600, holes).gaps).toEqual([
    { from: 900, to: 1000 },
    { from: 2000, to: 3600 },
  ]);
  expect(coverLine([], 1000, [{ from: 0, to: 1000 }]).share).toBeNaN();
});

test('points in any order, beyond the ends too; short stretches without points are not told', () => {
  const s = [...along(2000, 3700), ...along(-50, 1940)].reverse();
  const { share, gaps } = coverLine(s, 3600, []);
  expect(share).toBeCloseTo(1 - 60 / 3600, 9);
  expect(gaps).toEqual([]);
  expect(coverLine([], 3600, [])).toEqual({ share: 0, gaps: [{ from: 0, to: 3600 }] });
});

test('a line runs over the openings and boxes that its height or place crosses', () => {
  const wall = {
    openings: [{ id: 'o1', kind: 'window', along: 1000, up: 900, width: 1200, height: 1000 }],
    boxes: [{ id: 'b1', kind: 'socket', along: 300, up: 300, width: 80, height: 80, proud: 0 }],
  };
  expect(listHoles({ axis: 'level', at: 1500 }, wall)).toEqual([{ from: 1000, to: 2200 }]);
  expect(listHoles({ axis: 'plumb', at: 340 }, wall)).toEqual([{ from: 300, to: 380 }]);
  expect(listHoles({ axis: 'level', at: 600 }, wall)).toEqual([]);
  expect(listHoles({ axis: 'level', at: null }, wall)).toEqual([]);
});
