import type { LineBand } from './lineBand.ts';
import { medianOf } from './running.ts';

/** A course that keeps a line's steps sharp, and the columns with which something new begins. */
export interface SteppedCourse {
  readonly course: Float64Array;
  readonly breaks: readonly number[];
}

/**
 * A step is looked for where the course rises more over this many px to either side than it slopes beyond them, read this
 * far off.
 */
const NEAR_PX = 16;
const FAR_PX = 48;
const LONG_PX = 256;
/** The least step, px and line widths. */
const LEAST_PX = 1.2;
const LEAST_WIDTHS = 0.3;
/** Columns from which the height of one side of a step is read, and over which the course is smoothed there. */
const SIDE_PX = 12;
const SMOOTH_PX = 3;
/** And over which it runs into the course as it was. */
const BLEND_PX = 8;
/** A step must explain the columns round it this much better than a straight course. */
const BETTER = 0.6;

/**
 * Finds steps of a line within a band along its course (across-coordinate per column, which may round them off): where
 * the course bends as it would at a step, the brightest rows of the single columns are split in two flat sides in the best
 * way; if that explains them well, the course follows either side right up to the step.
 */
export function followSteps(
  band: Pick<LineBand, 'columns' | 'rows' | 'top'>,
  values: Float32Array,
  course: Float64Array,
  widthPx: number,
  searchPx: number,
): SteppedCourse {
  const least = Math.max(LEAST_PX, LEAST_WIDTHS * widthPx);
  const last = band.columns - 1;
  const courseAt = (x: number): number => course[Math.min(last, Math.max(0, x))]!;
  const slopeOf = (from: number, to: number): number => {
    const [a, b] = [Math.max(0, from), Math.min(last, to)];
    return b > a ? (course[b]! - course[a]!) / (b - a) : NaN;
  };
  // the middle one of three slopes: another step near by spoils only one of them
  const slopeBeside = (x: number): number => {
    const long = slopeOf(x - LONG_PX, x + LONG_PX);
    const [left, right] = [slopeOf(x - FAR_PX, x - NEAR_PX), slopeOf(x + NEAR_PX, x + FAR_PX)];
    if (!(x >= FAR_PX && x + FAR_PX <= last)) return Number.isNaN(left) || x < FAR_PX ? right : left;
    return Math.max(Math.min(left, right), Math.min(Math.max(left, right), long));
  };
  const riseAt = (x: number): number =>
    Math.abs(courseAt(x + NEAR_PX) - courseAt(x - NEAR_PX) - 2 * NEAR_PX * slopeBeside(x));
  const breaks: number[] = [];
  let followed = course;
  for (let x = 0; x < band.columns; x++) {
    if (!(riseAt(x) > least)) continue;
    const from = x;
    while (x < last && riseAt(x + 1) > least) x++;
    const start = Math.max(0, from - SMOOTH_PX);
    const end = Math.min(last, x + SMOOTH_PX);
    const slope = slopeBeside((from + x) >> 1);
    const rows = brightestRows(band, values, course, start, end, searchPx, slope);
    const step = splitRows(rows, least);
    if (step < 0) continue;
    breaks.push(start + step);
    if (followed === course) followed = course.slice();
    for (let i = 0; i < rows.length; i++) {
      const [a, b] = i < step ? [0, step] : [step, rows.length];
      const near = rows.subarray(Math.max(a, i - SMOOTH_PX), Math.min(b, i + SMOOTH_PX + 1));
      const here = medianOf(near) + slope * i;
      // at its ends it runs into the course as it was
      const share = Math.min(1, (Math.min(i, rows.length - 1 - i) + 1) / BLEND_PX);
      followed[start + i] = course[start + i]! + share * (here - course[start + i]!);
    }
  }
  return { course: followed, breaks };
}

/** The brightest row of every column in a stretch (across-coordinate, px), less the stretch's slope. */
function brightestRows(
  { rows, top, columns }: Pick<LineBand, 'columns' | 'rows' | 'top'>,
  values: Float32Array,
  course: Float64Array,
  start: number,
  end: number,
  searchPx: number,
  slope: number,
): Float64Array {
  const found = new Float64Array(end - start + 1);
  for (let x = start; x <= end; x++) {
    const before = course[Math.max(0, x - NEAR_PX)]! + slope * NEAR_PX;
    const after = course[Math.min(columns - 1, x + NEAR_PX)]! - slope * NEAR_PX;
    const first = Math.max(1, Math.ceil(Math.min(before, after, course[x]!) - searchPx - top[x]!));
    const limit = Math.min(rows - 2, Math.floor(Math.max(before, after, course[x]!) + searchPx - top[x]!));
    let [best, most] = [NaN, -Infinity];
    for (let j = first, i = x * rows + first; j <= limit; j++, i++) {
      const light = values[i - 1]! + 2 * values[i]! + values[i + 1]!;
      if (light > most) [best, most] = [j, light];
    }
    const at = x * rows + best;
    const bend = values[at - 1]! - 2 * values[at]! + values[at + 1]!;
    const rest = bend < 0 ? (values[at - 1]! - values[at + 1]!) / (2 * bend) : 0;
    found[x - start] = top[x]! + best + Math.max(-0.5, Math.min(0.5, rest)) - slope * (x - start);
  }
  return found;
}

/** Where rows are best split in two flat sides; -1 if they are no step of at least `least`. */
function splitRows(rows: Float64Array, least: number): number {
  const misfit = (part: Float64Array, middle: number): number =>
    part.reduce((sum, row) => sum + Math.abs(row - middle), 0);
  let [best, least2, jump] = [-1, Infinity, 0];
  for (let k = SMOOTH_PX; k <= rows.length - SMOOTH_PX; k++) {
    const [left, right] = [rows.subarray(Math.max(0, k - SIDE_PX), k), rows.subarray(k, k + SIDE_PX)];
    const [low, high] = [medianOf(left), medianOf(right)];
    const cost = misfit(rows.subarray(0, k), low) + misfit(rows.subarray(k), high);
    if (cost < least2) [best, least2, jump] = [k, cost, Math.abs(high - low)];
  }
  return jump >= least && least2 < BETTER * misfit(rows, medianOf(rows)) ? best : -1;
}
