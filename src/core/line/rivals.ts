import type { StrengthMap } from './path.ts';
import { medianOf } from './running.ts';

/** Rows to either side of a path that belong to its line. */
const NEAR_ROWS = 5;
const RIVAL_SHARE = 0.6;

/** Median strength on a path (row per column, -1 = none), NaN for an empty one. */
export function strengthOnPath(map: StrengthMap, rows: Int32Array): number {
  return medianOf(Array.from(rows, (y, x) => (y < 0 ? NaN : map.values[y * map.width + x]!)));
}

/** Takes a path and what belongs to its line out of a map, in place. */
export function erasePath(map: StrengthMap, rows: Int32Array): void {
  const { width, height, values } = map;
  rows.forEach((row, x) => {
    if (row < 0) return;
    for (let y = Math.max(0, row - NEAR_ROWS); y <= Math.min(height - 1, row + NEAR_ROWS); y++)
      values[y * width + x] = 0;
  });
}

/** How many places left in a map are nearly as strong as a line of this strength, per place of its path. */
export function countRivals(map: StrengthMap, strength: number, rows: Int32Array): number {
  let rivals = 0;
  for (const value of map.values) if (value > RIVAL_SHARE * strength) rivals++;
  return (
    rivals /
    Math.max(
      1,
      rows.reduce((count, row) => count + (row < 0 ? 0 : 1), 0),
    )
  );
}
