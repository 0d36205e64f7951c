import { describe, expect, test } from 'vitest';
import type { LineBand } from '../../../src/core/line/lineBand.ts';
import { smoothAlong } from '../../../src/core/line/lineBand.ts';
import { placeColumns, sharpenPlacement } from '../../../src/core/line/placement.ts';
import { removeTexture } from '../../../src/core/line/texture.ts';

const COLUMNS = 60;
const ROWS = 33;
const MIDDLE = 16;

/** A band with a line in its middle row, on mortar above the row `edge` and brick below it; linear light. */
function makeBand(edge: number, height: number): LineBand {
  const band = {
    columns: COLUMNS,
    rows: ROWS,
    top: new Int32Array(COLUMNS),
    light: new Float32Array(COLUMNS * ROWS),
    own: new Float32Array(COLUMNS * ROWS),
    other: new Float32Array(COLUMNS * ROWS),
    channels: [new Uint8Array(0), new Uint8Array(0), new Uint8Array(0)] as const,
  };
  for (let x = 0; x < COLUMNS; x++)
    for (let j = 0; j < ROWS; j++) {
      const i = x * ROWS + j;
      const share = 1 / (1 + Math.exp((j - edge) * 2));
      const line = height * Math.exp(-0.5 * ((j - MIDDLE) / 1.3) ** 2);
      band.own[i] = 16 + 27 * share + line;
      band.other[i] = 32 + 13 * share + 0.1 * line;
      band.light[i] = band.own[i]!;
    }
  return band;
}
const course = new Float64Array(COLUMNS).fill(MIDDLE);

describe('removeTexture', () => {
  test('an edge that both channels have goes, the line stays', () => {
    const cleaned = removeTexture(makeBand(19, 25), course, 7);
    for (const j of [2, 8, 22, 30]) expect(Math.abs(cleaned[30 * ROWS + j]!)).toBeLessThan(0.5);
    expect(cleaned[30 * ROWS + MIDDLE]!).toBeGreaterThan(18);
  });

  test('on an even wall it only takes the wall away', () => {
    const cleaned = removeTexture(makeBand(-99, 25), course, 7);
    expect(cleaned[30 * ROWS + MIDDLE]!).toBeCloseTo(25, 4);
  });
});

test('a faint line beside an edge is placed better without the texture', () => {
  const band = makeBand(19.3, 12);
  const sizes = { searchPx: 2.5, widthPx: 3.1, smoothingPx: 1.5 };
  const plain = placeColumns(band, 'light', course, sizes);
  const sharpened = sharpenPlacement(band, plain, course, sizes);
  const error = (row: number) => (Number.isNaN(row) ? Infinity : Math.abs(row - MIDDLE));
  expect(error(plain.across[30]!)).toBeGreaterThan(0.3);
  expect(error(sharpened.across[30]!)).toBeLessThan(0.05);
});

describe('smoothAlong', () => {
  const band = { columns: 9, rows: 5, top: Int32Array.from({ length: 9 }, (_, x) => x) };
  const slope = Float64Array.from({ length: 9 }, (_, x) => x + 2);

  test('follows the course: a line along it stays as sharp as it was', () => {
    const line = Float32Array.from({ length: 45 }, (_, i) => (i % 5 === 2 ? 10 : 0));
    expect(Array.from(smoothAlong(band, line, slope, 2))).toEqual(Array.from(line));
  });

  test('smooths along it, with a sum of one at the ends too', () => {
    const even = new Float32Array(45).fill(7);
    smoothAlong(band, even, slope, 1.5).forEach((value) => expect(value).toBeCloseTo(7, 5));
    const spot = new Float32Array(45);
    spot[4 * 5 + 2] = 1;
    const smoothed = smoothAlong(band, spot, slope, 1.5);
    expect(smoothed[3 * 5 + 2]).toBeCloseTo(smoothed[5 * 5 + 2]!, 6);
    expect(smoothed[4 * 5 + 2]).toBeGreaterThan(smoothed[3 * 5 + 2]!);
    expect(smoothed[4 * 5 + 1]).toBe(0);
  });
});
