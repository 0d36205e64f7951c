import { describe, expect, test } from 'vitest';
import { joinByHand } from '../../../src/core/line/byHand.ts';
import {
  gapsBetween,
  joinColumns,
  pointsOfColumns,
  type LineColumn,
} from '../../../src/core/line/linePoints.ts';
import { flipShortRuns, trimEnds } from '../../../src/core/line/presence.ts';
import { medianOf, runningMedian } from '../../../src/core/line/running.ts';
import { tileMeans } from '../../../src/core/line/tiles.ts';
import type { LinePoint, PointState } from '../../../src/core/survey.ts';

const flags = (signs: string) => Uint8Array.from(signs, (sign) => (sign === '#' ? 1 : 0));
const signs = (values: Uint8Array) => Array.from(values, (value) => (value ? '#' : '.')).join('');

describe('runs of columns', () => {
  test('short holes close, short pieces go, ends stay open', () => {
    const line = flags('..####.#####...###..##....#');
    flipShortRuns(line, 0, 3);
    expect(signs(line)).toBe('..##########...#######....#');
    flipShortRuns(line, 1, 8);
    expect(signs(line)).toBe('..##########...............');
  });

  test("ends are trimmed, the picture's own edge is none", () => {
    const line = flags('#######...######..');
    trimEnds(line, 2);
    expect(signs(line)).toBe('#####.......##....');
  });
});

const column = (along: number, across: number, excess = 10): LineColumn => ({
  along,
  across,
  sigma: 0.2,
  reason: null,
  excess,
});

describe('columns and points', () => {
  test('where stretches overlap the more coloured column stays', () => {
    const joined = joinColumns([
      [column(1, 5), column(2, 5, 3)],
      [column(2, 40, 9), column(3, 40)],
    ]);
    expect(joined.map(({ along, across }) => [along, across])).toEqual([
      [1, 5],
      [2, 40],
      [3, 40],
    ]);
  });

  test('a plumb line has its columns down the picture', () => {
    const columns = [column(7, 3), { ...column(8, 3.5), reason: 'wide' as const }];
    expect(pointsOfColumns(columns, 'plumb')).toEqual([
      { u: 3, v: 7, sigma: 0.2, state: 'found' },
      { u: 3.5, v: 8, sigma: 0.2, state: 'suspect', why: 'wide' },
    ]);
    expect(pointsOfColumns(columns, 'level')[0]).toMatchObject({ u: 7, v: 3 });
  });

  test('gaps are what is longer than the least between two points', () => {
    expect(gapsBetween([], 3)).toEqual([]);
    expect(gapsBetween([4, 5, 8, 12, 40], 3)).toEqual([
      { from: 9, to: 11 },
      { from: 13, to: 39 },
    ]);
  });
});

describe('joinByHand', () => {
  const point = (u: number, v: number, state: PointState): LinePoint => ({ u, v, sigma: 0.3, state });

  test('moved, added and left-out points stay when a line is looked for again; found ones are renewed', () => {
    const before = [
      point(1, 9, 'found'),
      point(2, 9.5, 'moved'),
      point(3, 9, 'suspect'),
      point(4.3, 8, 'off'),
      point(30, 7, 'added'),
    ];
    const found = [1, 2, 3, 4, 5].map((u) => point(u, 1, 'found'));
    const { points, gaps } = joinByHand(before, found, 'level');
    expect(points).toEqual([found[0], before[1], found[2], before[3], found[4], before[4]]);
    expect(gaps).toEqual([{ from: 6, to: 29 }]);
  });

  test('nothing found comes back into a gap made by hand; what was set in it by hand stays', () => {
    const found = Array.from({ length: 41 }, (_, i) => point(i, 1, 'found')).filter(
      ({ u }) => u < 30 || u > 36,
    );
    const before = [point(8, 1, 'off'), point(9, 1, 'moved')];
    const byHand = [
      { from: 7.5, to: 9, byHand: true },
      { from: 9, to: 12.5, byHand: true },
      { from: 33, to: 38, byHand: true },
    ];
    const { points, gaps } = joinByHand(before, found, 'level', [...byHand, { from: 20, to: 25 }]);
    expect(points.map(({ u }) => u).filter((u) => u > 5 && u < 15)).toEqual([6, 7, 8, 9, 13, 14]);
    expect(points.map(({ u }) => u).filter((u) => u > 18 && u < 40)).toEqual([
      ...[19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29],
      ...[38, 39],
    ]);
    expect(gaps).toEqual([byHand[0], byHand[1], { from: 30, to: 33 }, byHand[2]]);
  });

  test('nothing by hand: the found points as they are', () => {
    const found = [point(5, 1, 'found'), point(5, 2, 'found')];
    expect(joinByHand([point(5, 9, 'found')], found, 'plumb').points).toEqual(found);
    expect(joinByHand([], [], 'level')).toEqual({ points: [], gaps: [] });
  });
});

describe('medians', () => {
  test('of an even count, of nothing, with values missing', () => {
    expect(medianOf([4, 1, 3, 2])).toBe(2.5);
    expect(medianOf([])).toBeNaN();
    expect(medianOf([NaN, 7, NaN])).toBe(7);
  });

  test('running: with a stride what lies between is interpolated, holes are skipped', () => {
    const values = Float64Array.from({ length: 11 }, (_, i) => (i === 4 ? NaN : 2 * i));
    const every = runningMedian(values, 2, 1);
    expect(every[6]).toBe(13);
    expect(every[8]).toBe(16);
    const strided = runningMedian(values, 2, 3);
    expect(strided[3]).toBe(every[3]);
    expect(strided[4]).toBeCloseTo((2 * every[3]! + every[6]!) / 3, 12);
    expect(runningMedian(new Float64Array([NaN, NaN]), 3, 1).every(Number.isNaN)).toBe(true);
  });
});

test('tile means: of absolute values in every second row, over the tiles round the place, partial tiles too', () => {
  const values = Int16Array.from({ length: 50 * 7 }, (_, i) => (i % 2 ? 3 : -3));
  const { columns, means } = tileMeans(50, 7, values, 4, 4);
  expect([columns, means.length]).toEqual([13, 26]);
  expect(new Set(means)).toEqual(new Set([3]));
  const one = new Int16Array(60 * 60);
  one[30 * 60 + 30] = 100;
  // 20 columns, and 10 of 20 rows; tiles of 2 x 4
  expect(tileMeans(60, 60, one, 4, 4).means[7 * 15 + 7]).toBeCloseTo(100 / 200, 6);
  expect(tileMeans(60, 60, one, 2, 4).means[7 * 30 + 15]).toBeCloseTo(100 / 100, 6);
  expect(tileMeans(60, 60, one, 4, 4).means[0]).toBe(0);
});
