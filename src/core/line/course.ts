import { medianOf } from './running.ts';

/** The slope is the median of differences over this many columns, all within `SLOPE_REACH` of the place. */
const SLOPE_STEP = 4;
const SLOPE_REACH = 8;

/**
 * The course through places of a line (across-coordinates, NaN where unknown), one of each column: the median over `reach`
 * columns to either side, each moved along the line's slope there. It follows bends and steps but no single wrong column,
 * and does not depend on where the line was looked for; that (`rough`) only fills in where nothing is known.
 * @example refineCourse(new Float64Array([1, 2, 9, 4, 5, 6]), new Float64Array(6), 2) // [1, 2, 3, 4, 5, 6]
 */
export function refineCourse(across: Float64Array, rough: Float64Array, reach: number): Float64Array {
  const slopes: number[] = [];
  const near: number[] = [];
  return across.map((_, x) => {
    slopes.length = 0;
    const last = Math.min(across.length - 1, x + SLOPE_REACH);
    for (let i = Math.max(0, x - SLOPE_REACH); i + SLOPE_STEP <= last; i++)
      slopes.push((across[i + SLOPE_STEP]! - across[i]!) / SLOPE_STEP);
    const median = medianOf(slopes);
    const slope = Number.isFinite(median) ? median : 0;
    near.length = 0;
    for (let d = Math.max(-reach, -x); d <= reach && x + d < across.length; d++)
      near.push(across[x + d]! - slope * d);
    const middle = medianOf(near);
    return Number.isFinite(middle) ? middle : rough[x]!;
  });
}
