import { describe, expect, test } from 'vitest';
import { splitPath } from '../../../src/core/line/pieces.ts';

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
