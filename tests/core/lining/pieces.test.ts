import { describe, expect, test } from 'vitest';
import { cutPieces } from '../../../src/core/lining/pieces.ts';
import { visitTiles } from '../../../src/core/lining/rects.ts';

const rect = (along: number, up: number, width: number, height: number) => ({ along, up, width, height });
const board = rect(0, 0, 1200, 2400);

describe('pieces', () => {
  test('without holes there is one, whole', () => {
    expect(cutPieces(board, [])).toEqual([{ rect: board, cutouts: [] }]);
  });
  test('a hole beside the board changes nothing', () => {
    expect(cutPieces(board, [rect(1200, 0, 500, 2400)])).toEqual([{ rect: board, cutouts: [] }]);
  });
  test('a hole over the whole board leaves none', () => {
    expect(cutPieces(board, [rect(-10, -10, 1300, 2500)])).toEqual([]);
  });
  test('a hole across leaves one below and one above', () => {
    expect(cutPieces(board, [rect(-100, 900, 1500, 1200)])).toEqual([
      { rect: rect(0, 0, 1200, 900), cutouts: [] },
      { rect: rect(0, 2100, 1200, 300), cutouts: [] },
    ]);
  });
  test('a hole at one side makes an L, a hole within another is not told twice', () => {
    expect(cutPieces(board, [rect(800, 900, 900, 1200), rect(850, 1000, 50, 50)])).toEqual([
      { rect: board, cutouts: [rect(800, 900, 400, 1200)] },
    ]);
  });
  test('stepped holes leave two pieces whose rectangles overlap but whose boards do not', () => {
    const holes = [rect(0, 800, 700, 600), rect(600, 1200, 600, 600)];
    const pieces = cutPieces(board, holes);
    expect(pieces).toHaveLength(2);
    const area = pieces.map((piece) => {
      let sum = 0;
      const sides = (r: typeof board) => ({
        left: r.along,
        right: r.along + r.width,
        bottom: r.up,
        top: r.up + r.height,
      });
      visitTiles(sides(piece.rect), piece.cutouts.map(sides), (tile) => {
        sum += (tile.right - tile.left) * (tile.top - tile.bottom);
      });
      return sum;
    });
    expect(area).toEqual([1200 * 800 + 500 * 400, 1200 * 600 + 600 * 400]);
  });
});

test('tiles cover what the holes leave exactly once and cross no grid line', () => {
  const frame = { left: 12, right: 431, bottom: 7, top: 295 };
  const holes = [
    { left: 100, right: 260, bottom: -50, top: 120 },
    { left: 200, right: 300, bottom: 90, top: 210 },
  ];
  let area = 0;
  visitTiles(
    frame,
    holes,
    ({ left, right, bottom, top }) => {
      area += (right - left) * (top - bottom);
      expect(Math.floor(left / 50 + 1e-9)).toBe(Math.ceil(right / 50 - 1e-9) - 1);
      expect(Math.floor(bottom / 50 + 1e-9)).toBe(Math.ceil(top / 50 - 1e-9) - 1);
    },
    50,
  );
  const union = 160 * 113 + 100 * 120 - 60 * 30;
  expect(area).toBeCloseTo((431 - 12) * (295 - 7) - union, 6);
});
