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

/** Rows per column that a path may slope by; the score arrays are padded by as much. */
const MAX_SLOPE = 2;
const FROM_STEP = 100;
const FROM_GAP = 101;

/**
 * The best path through a strength map, column by column, by dynamic programming (Viterbi): it may slope by
 * up to two rows a column, step to another height, and leave the line for a gap, each at its cost; a map
 * without a line gives a path of gaps with score 0.
 * @example findPath({ width: 3, height: 2, values: new Float32Array([0, 0, 0, 9, 9, 9]) }, { ...PATH_COSTS, gapEnd: 1 }).score // 1
 */
export function findPath(map: StrengthMap, costs: PathCosts = PATH_COSTS): LinePath {
  const { width, height, values } = map;
  const scale = 1 / (costs.enough - costs.threshold);
  // how each state was reached: row difference + MAX_SLOPE, or a step (from stepFrom), or from the gap
  const reached = new Uint8Array(width * height);
  const stepFrom = new Int16Array(width * height);
  const gapFrom = new Int32Array(width);
  let previous = new Float64Array(height + 2 * MAX_SLOPE).fill(-Infinity);
  let current = previous.slice();
  const stepScore = new Float64Array(height);
  const stepRow = new Int16Array(height);
  let gap = 0;
  for (let x = 0; x < width; x++) {
    const best = bestSteps(previous, stepScore, stepRow, costs.stepHeight / height);
    const fromGap = gap - costs.gapEnd;
    gapFrom[x] = -1;
    if (best.score - costs.gapEnd > gap) {
      gap = best.score - costs.gapEnd;
      gapFrom[x] = best.row;
    }
    for (let y = 0; y < height; y++) {
      let score = fromGap;
      let how = FROM_GAP;
      if (stepScore[y]! - costs.step > score) {
        score = stepScore[y]! - costs.step;
        how = FROM_STEP;
      }
      for (let d = -MAX_SLOPE; d <= MAX_SLOPE; d++) {
        const sloped = previous[y + MAX_SLOPE + d]! - costs.slope * (d < 0 ? -d : d);
        if (sloped > score) {
          score = sloped;
          how = d + MAX_SLOPE;
        }
      }
      const strength = values[y * width + x]!;
      current[y + MAX_SLOPE] =
        score + ((strength > costs.enough ? costs.enough : strength) - costs.threshold) * scale;
      reached[x * height + y] = how;
      stepFrom[x * height + y] = stepRow[y]!;
    }
    [previous, current] = [current, previous];
  }
  return tracePath({ width, height, reached, stepFrom, gapFrom }, previous, gap, costs.gapEnd);
}

/**
 * For every row the best row to step to it from, with a cost growing with the step's height: two sweeps of
 * the max-plus distance transform. Returns the best row of all.
 */
function bestSteps(
  previous: Float64Array,
  stepScore: Float64Array,
  stepRow: Int16Array,
  costPerRow: number,
): { score: number; row: number } {
  const best = { score: -Infinity, row: -1 };
  let score = -Infinity;
  let row = 0;
  for (let y = 0; y < stepScore.length; y++) {
    const here = previous[y + MAX_SLOPE]!;
    score -= costPerRow;
    if (here > score) [score, row] = [here, y];
    if (here > best.score) [best.score, best.row] = [here, y];
    stepScore[y] = score;
    stepRow[y] = row;
  }
  score = -Infinity;
  for (let y = stepScore.length - 1; y >= 0; y--) {
    const here = previous[y + MAX_SLOPE]!;
    score -= costPerRow;
    if (here > score) [score, row] = [here, y];
    if (score > stepScore[y]!) {
      stepScore[y] = score;
      stepRow[y] = row;
    }
  }
  return best;
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
