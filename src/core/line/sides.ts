import type { LineBand } from './lineBand.ts';
import { BACKGROUND_ROWS, backgroundAway, type GroundSides } from './profile.ts';

/** A row beside the line whose mean differs from the nearest ones by more than this share of the line's height is something else. */
const EDGE_SHARE = 0.04;
const NEAREST_ROWS = 2;

/**
 * How many rows on either side of a line are plain wall, from the mean over the columns from..to (`to` not in it) along
 * its course: a tape, a joint or an edge that runs beside the line ends them.
 */
export function findSides(
  { rows, top }: Pick<LineBand, 'rows' | 'top'>,
  values: Float32Array,
  course: Float64Array,
  from: number,
  to: number,
  widthRows: number,
): GroundSides {
  const away = Math.ceil(backgroundAway(widthRows));
  const meanAt = (offset: number): number => {
    let sum = 0;
    let count = 0;
    for (let x = from; x < to; x++) {
      const j = Math.round(course[x]! - top[x]!) + offset;
      if (j < 0 || j >= rows) continue;
      sum += values[x * rows + j]!;
      count++;
    }
    return sum / count;
  };
  const line = meanAt(0);
  const countRows = (side: 1 | -1): number => {
    let near = 0;
    for (let k = 0; k < NEAREST_ROWS; k++) near += meanAt(side * (away + k)) / NEAREST_ROWS;
    const most = EDGE_SHARE * Math.abs(line - near);
    let count = NEAREST_ROWS;
    while (count < BACKGROUND_ROWS && Math.abs(meanAt(side * (away + count)) - near) <= most) count++;
    return count;
  };
  return { before: countRows(-1), after: countRows(1) };
}
