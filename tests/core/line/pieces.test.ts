import { describe, expect, test } from 'vitest';
import { reachBorders, splitPath } from '../../../src/core/line/pieces.ts';

describe('splitPath', () => {
  test('splits at gaps and steps and drops what is too short', () => {
    const rows = [-1, 3, 3, 3, 4, 4, -1, 4, 4, -1, 4, 4, 4, 9, 9, 9, 9];
    const pieces = splitPath(rows, 3);
    expect(pieces.map(({ from, to }) => [from, to])).toEqual([
      [1, 5],
      [10, 12],
      [13, 16],
    ]);
  });

  test('smooths within a piece only', () => {
    const pieces = splitPath([2, 2, 2, 2, 8, 8, 8, 8], 2);
    expect(pieces.map(({ rows }) => Array.from(rows))).toEqual([Array(4).fill(2), Array(4).fill(8)]);
  });

  test('a straight slope stays as it is', () => {
    const [piece] = splitPath([0, 1, 2, 3, 4, 5, 6, 7], 2);
    Array.from(piece!.rows).forEach((row, x) => expect(row).toBeCloseTo(x, 12));
  });

  test('no line gives no piece', () => {
    expect(splitPath([-1, -1, -1], 1)).toEqual([]);
    expect(splitPath([], 1)).toEqual([]);
  });
});

test('a piece that ends near the border goes on straight to it, one further off does not', () => {
  const rows = Float64Array.from({ length: 60 }, (_, i) => (i < 5 || i > 39 ? -1 : 10 + 0.5 * i));
  const [piece] = reachBorders(splitPath(rows, 4), 60);
  expect([piece!.from, piece!.to]).toEqual([0, 39]);
  for (const i of [0, 2, 20, 39]) expect(piece!.rows[i]).toBeCloseTo(10 + 0.5 * i, 9);
  const [both] = reachBorders(splitPath(rows.subarray(0, 45), 4), 45);
  expect([both!.from, both!.to]).toEqual([0, 44]);
  expect(both!.rows[44]).toBeCloseTo(32, 9);
});
