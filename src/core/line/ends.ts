import type { LineBand } from './lineBand.ts';
import { backgroundAway } from './profile.ts';

/** Columns on either side whose light is compared, and the share of it under which a line has ended or not begun. */
const SIDE_PX = 3;
const ENDED_SHARE = 0.2;
/** Rows either side of the middle, and beside the line, that are read. */
const CORE_ROWS = 1;
const WALL_ROWS = 2;

/**
 * Columns with which the light along a course (across-coordinate per column) begins or stops at once: behind a pipe, at an
 * opening, at the wall's end. Rising; nothing should be smoothed across them.
 */
export function findEnds(
  { columns, rows, top }: Pick<LineBand, 'columns' | 'rows' | 'top'>,
  values: Float32Array,
  course: Float64Array,
  widthRows: number,
): number[] {
  const away = Math.ceil(backgroundAway(widthRows));
  const light = new Float64Array(columns);
  for (let x = 0; x < columns; x++) {
    const middle = Math.round(course[x]! - top[x]!);
    if (middle - away - WALL_ROWS < 0 || middle + away + WALL_ROWS >= rows) continue;
    const at = x * rows + middle;
    let core = 0;
    let wall = 0;
    for (let d = -CORE_ROWS; d <= CORE_ROWS; d++) core += values[at + d]!;
    for (let d = away; d < away + WALL_ROWS; d++) wall += values[at + d]! + values[at - d]!;
    light[x] = Math.max(0, core / (2 * CORE_ROWS + 1) - wall / (2 * WALL_ROWS));
  }
  let usual = 0;
  for (let x = 0; x < columns; x++) usual += light[x]! / columns;
  const ends: number[] = [];
  let sharpest = 0;
  for (let x = SIDE_PX; x <= columns - SIDE_PX; x++) {
    let before = 0;
    let after = 0;
    for (let d = 0; d < SIDE_PX; d++) {
      before += light[x - 1 - d]! / SIDE_PX;
      after += light[x + d]! / SIDE_PX;
    }
    const change = Math.abs(after - before);
    if (Math.min(before, after) >= ENDED_SHARE * Math.max(before, after) || change < usual / 2) continue;
    // of neighbouring columns the one with the sharpest change
    const last = ends[ends.length - 1];
    if (last !== undefined && x - last < SIDE_PX) {
      if (change <= sharpest) continue;
      ends.pop();
    }
    ends.push(x);
    sharpest = change;
  }
  return ends;
}
