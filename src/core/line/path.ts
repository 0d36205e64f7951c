/**
 * How much a place looks like the line, `width` columns along it times `height` rows across, row by row; 0 =
 * not at all.
 */
export interface StrengthMap {
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
}

export interface PathCosts {
  /**
   * Strength above which a column gains by being on the line, and above which more strength gains nothing.
   */
  readonly threshold: number;
  readonly enough: number;
  /**
   * In units of one column's full gain: moving one row per column; a step, plus its height as a share of the
   * map's.
   */
  readonly slope: number;
  readonly step: number;
  readonly stepHeight: number;
  /** Leaving the line for "no line here" or coming back to it. */
  readonly gapEnd: number;
}

/** For a map of about 500 columns. */
export const PATH_COSTS: PathCosts = {
  threshold: 2.5,
  enough: 7,
  slope: 0.06,
  step: 3,
  stepHeight: 8,
  gapEnd: 2,
};

export interface LinePath {
  /** Row of the line in every column, -1 where there is none. */
  readonly rows: Int32Array;
  /** Sum of the gains less the costs: a full-strength straight line earns 1 per column. */
  readonly score: number;
}

/** Rows per column that a path may slope by; the scores are padded by as much. */
const MAX_SLOPE = 2;
const FROM_STEP = 100;
const FROM_GAP = 101;

/**
 * The best path through a strength map, column by column, by dynamic programming (Viterbi): it may slope by
 * up to two rows a column, step to a place above the threshold at another height, and leave the line for a gap, each at its
 * cost; a map without a line gives a path of gaps with score 0. Only places that can still be better than coming anew from
 * the gap are carried on, a few of every column.
 * @example findPath({ width: 3, height: 2, values: new Float32Array([0, 0, 0, 9, 9, 9]) }, { ...PATH_COSTS, gapEnd: 1 }).score // 1
 */
export function findPath(map: StrengthMap, costs: PathCosts = PATH_COSTS): LinePath {
  const { width, height, values } = map;
  const scale = 1 / (costs.enough - costs.threshold);
  const strong = listStrong(map, costs.threshold);
  // how each state was reached: row difference + MAX_SLOPE, or a step (from stepFrom), or from the gap
  const reached = new Uint8Array(width * height);
  const stepFrom = new Int16Array(width * height);
  const gapFrom = new Int32Array(width);
  let before = newFront(height);
  let after = newFront(height);
  const steps = { score: new Float64Array(height), row: new Int16Array(height) };
  let gap = 0;
  for (let x = 0; x < width; x++) {
    const fromGap = gap - costs.gapEnd;
    gapFrom[x] = -1;
    const best = bestOf(before);
    if (best >= 0 && before.scores[best + MAX_SLOPE]! - costs.gapEnd > gap) {
      gap = before.scores[best + MAX_SLOPE]! - costs.gapEnd;
      gapFrom[x] = best;
    }
    const rows = strong.rows.subarray(strong.first[x], strong.first[x + 1]);
    findSteps(before, rows, costs.stepHeight / height, steps);
    const { scores } = before;
    let [next, s, last] = [0, 0, -1];
    // rows that are strong or within a slope of one carried on, in rising order
    for (let a = 0; a < before.count || s < rows.length;) {
      const near = a < before.count ? Math.max(last + 1, before.rows[a]! - MAX_SLOPE) : height;
      const y = s < rows.length && rows[s]! <= near ? rows[s]! : near;
      if (a < before.count && y > before.rows[a]! + MAX_SLOPE) {
        a++;
        continue;
      }
      if (y >= height) break;
      last = y;
      let score = fromGap;
      let how = FROM_GAP;
      const i = x * height + y;
      if (s < rows.length && rows[s] === y) {
        if (steps.score[s]! - costs.step > score) {
          score = steps.score[s]! - costs.step;
          how = FROM_STEP;
          stepFrom[i] = steps.row[s]!;
        }
        s++;
      }
      for (let d = -MAX_SLOPE; d <= MAX_SLOPE; d++) {
        const sloped = scores[y + MAX_SLOPE + d]! - costs.slope * (d < 0 ? -d : d);
        if (sloped > score) {
          score = sloped;
          how = d + MAX_SLOPE;
        }
      }
      const strength = values[y * width + x]!;
      score += ((strength > costs.enough ? costs.enough : strength) - costs.threshold) * scale;
      // from the gap any place is reached as well from here on
      if (score <= gap - costs.gapEnd) continue;
      after.scores[y + MAX_SLOPE] = score;
      after.rows[next++] = y;
      reached[i] = how;
    }
    after.count = next;
    clearFront(before);
    [before, after] = [after, before];
  }
  return tracePath({ width, height, reached, stepFrom, gapFrom }, before.scores, gap, costs.gapEnd);
}

/** The states of one column that are carried on: their rows, rising, and the score of every row (padded; -Infinity: none). */
interface Front {
  readonly scores: Float64Array;
  readonly rows: Int16Array;
  count: number;
}

function newFront(height: number): Front {
  const scores = new Float64Array(height + 2 * MAX_SLOPE).fill(-Infinity);
  return { scores, rows: new Int16Array(height), count: 0 };
}

function clearFront(front: Front): void {
  for (let a = 0; a < front.count; a++) front.scores[front.rows[a]! + MAX_SLOPE] = -Infinity;
  front.count = 0;
}

/** Row with the best score, -1 where there is none. */
function bestOf({ scores, rows, count }: Front): number {
  let best = -1;
  for (let a = 0; a < count; a++)
    if (best < 0 || scores[rows[a]! + MAX_SLOPE]! > scores[best + MAX_SLOPE]!) best = rows[a]!;
  return best;
}

/** Rows of every column where a map is above a threshold: those of column x are rows[first[x]] to rows[first[x + 1] - 1], rising. */
function listStrong({ width, height, values }: StrengthMap, threshold: number) {
  const first = new Int32Array(width + 1);
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++) if (values[i]! > threshold) first[x + 1]!++;
  for (let x = 0; x < width; x++) first[x + 1]! += first[x]!;
  const rows = new Int16Array(first[width]!);
  const next = first.slice();
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++) if (values[i]! > threshold) rows[next[x]!++] = y;
  return { first, rows };
}

/**
 * For each of the rising rows the best row of the front to step to it from, with a cost growing with the step's height: two
 * sweeps of the max-plus distance transform.
 */
function findSteps(
  { scores, rows: from, count }: Front,
  rows: Int16Array,
  costPerRow: number,
  steps: { score: Float64Array; row: Int16Array },
): void {
  let [best, bestRow, a] = [-Infinity, 0, 0];
  for (let s = 0; s < rows.length; s++) {
    const y = rows[s]!;
    for (; a < count && from[a]! <= y; a++) {
      const score = scores[from[a]! + MAX_SLOPE]!;
      if (score > best - costPerRow * (from[a]! - bestRow)) [best, bestRow] = [score, from[a]!];
    }
    steps.score[s] = best - costPerRow * (y - bestRow);
    steps.row[s] = bestRow;
  }
  [best, bestRow, a] = [-Infinity, 0, count - 1];
  for (let s = rows.length - 1; s >= 0; s--) {
    const y = rows[s]!;
    for (; a >= 0 && from[a]! >= y; a--) {
      const score = scores[from[a]! + MAX_SLOPE]!;
      if (score > best - costPerRow * (bestRow - from[a]!)) [best, bestRow] = [score, from[a]!];
    }
    const below = best - costPerRow * (bestRow - y);
    if (below > steps.score[s]!) {
      steps.score[s] = below;
      steps.row[s] = bestRow;
    }
  }
}

interface Trace {
  readonly width: number;
  readonly height: number;
  readonly reached: Uint8Array;
  readonly stepFrom: Int16Array;
  readonly gapFrom: Int32Array;
}

function tracePath(trace: Trace, last: Float64Array, gap: number, gapEnd: number): LinePath {
  const { width, height, reached, stepFrom, gapFrom } = trace;
  let y = -1;
  let score = gap;
  for (let row = 0; row < height; row++) {
    if (last[row + MAX_SLOPE]! - gapEnd > score) {
      score = last[row + MAX_SLOPE]! - gapEnd;
      y = row;
    }
  }
  const rows = new Int32Array(width);
  for (let x = width - 1; x >= 0; x--) {
    rows[x] = y;
    if (y < 0) {
      y = gapFrom[x]!;
      continue;
    }
    const how = reached[x * height + y]!;
    if (how === FROM_GAP) y = -1;
    else if (how === FROM_STEP) y = stepFrom[x * height + y]!;
    else y += how - MAX_SLOPE;
  }
  return { rows, score };
}
