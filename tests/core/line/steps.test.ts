import { describe, expect, test } from 'vitest';
import { findEnds } from '../../../src/core/line/ends.ts';
import { findSides } from '../../../src/core/line/sides.ts';
import { followSteps } from '../../../src/core/line/steps.ts';

const COLUMNS = 240;
const ROWS = 41;
const WIDTH = 4;

/** A band about row 20 with a line at `rowAt` of each column, on a wall of light 10 (or `wallAt` of each row). */
function makeBand(rowAt: (x: number) => number, wallAt: (row: number) => number = () => 10) {
  const values = new Float32Array(COLUMNS * ROWS);
  for (let x = 0; x < COLUMNS; x++)
    for (let j = 0; j < ROWS; j++) {
      const away = (j - rowAt(x)) / (WIDTH / 2.3548);
      values[x * ROWS + j] = wallAt(j) + (Number.isNaN(away) ? 0 : 60 * Math.exp(-0.5 * away * away));
    }
  return { band: { columns: COLUMNS, rows: ROWS, top: new Int32Array(COLUMNS) }, values };
}
const flat = new Float64Array(COLUMNS).fill(20);

describe('followSteps', () => {
  const stepped = (x: number) => (x < 121 ? 17.2 : 23.4) + 0.01 * x;
  /** A course that rounds the step off over 16 columns. */
  const rounded = Float64Array.from({ length: COLUMNS }, (_, x) => {
    const share = Math.min(1, Math.max(0, (x - 113) / 16));
    return 17.2 + 6.2 * share + 0.01 * x;
  });

  test('finds the column of a step that the course rounds off, and makes it sharp', () => {
    const { band, values } = makeBand(stepped);
    const { course, breaks } = followSteps(band, values, rounded, WIDTH, 3);
    expect(breaks).toEqual([121]);
    for (let x = 105; x < 140; x++) expect(Math.abs(course[x]! - stepped(x))).toBeLessThan(0.15);
  });

  test.each([0, 0.17])('a line sloping by %d without a step keeps its course', (slope) => {
    const straight = (x: number) => 20 + slope * (x - COLUMNS / 2) * 0.4;
    const { band, values } = makeBand(straight);
    const course = Float64Array.from({ length: COLUMNS }, (_, x) => straight(x));
    expect(followSteps(band, values, course, WIDTH, 3)).toEqual({ course, breaks: [] });
  });

  test('a course that bends where the line does not is no step', () => {
    const { band, values } = makeBand((x) => 17.2 + 0.39 * Math.min(16, Math.max(0, x - 113)) + 0.01 * x);
    expect(followSteps(band, values, rounded, WIDTH, 3).breaks.length).toBeLessThanOrEqual(1);
    expect(followSteps(band, new Float32Array(COLUMNS * ROWS), flat, WIDTH, 3).breaks).toEqual([]);
  });
});

describe('findEnds', () => {
  test('where the line stops and begins again, not where it only fades', () => {
    const { band, values } = makeBand((x) => (x >= 80 && x < 110 ? NaN : 20));
    expect(findEnds(band, values, flat, WIDTH)).toEqual([80, 110]);
    const { band: whole, values: even } = makeBand(() => 20);
    expect(findEnds(whole, even, flat, WIDTH)).toEqual([]);
    expect(findEnds(band, new Float32Array(COLUMNS * ROWS), flat, WIDTH)).toEqual([]);
  });
});

describe('findSides', () => {
  test('a bare wall may be read over all rows, a tape beside the line ends it', () => {
    const bare = makeBand(() => 20);
    expect(findSides(bare.band, bare.values, flat, 0, 64, WIDTH)).toEqual({ before: 6, after: 6 });
    const taped = makeBand(
      () => 20,
      (row) => (row >= 30 ? 40 : 10),
    );
    expect(findSides(taped.band, taped.values, flat, 0, 64, WIDTH)).toEqual({ before: 6, after: 3 });
  });
});
