/**
 * A stretch of a path without gap or step: columns from..to (both in it) and its smoothed row in each of
 * them.
 */
export interface PathPiece {
  readonly from: number;
  readonly to: number;
  readonly rows: Float64Array;
}

/** More rows than this from one column to the next are a step. */
const STEP_ROWS = 2.5;
const SMOOTHING = 2;

/**
 * The stretches of a path (row per column, -1 = no line) between its gaps and steps, at least `least`
 * columns long, each smoothed by a moving mean over up to 5 columns that never reaches beyond the stretch.
 * @example splitPath([-1, 4, 4, 4, 9, 9, 9, 9, -1], 4).map((piece) => piece.from) // [4]
 */
export function splitPath(rows: ArrayLike<number>, least: number): PathPiece[] {
  const pieces: PathPiece[] = [];
  const course = Float64Array.from(rows);
  for (let from = 0; from < rows.length;) {
    if (course[from]! < 0) {
      from++;
      continue;
    }
    let to = from;
    while (
      to + 1 < rows.length &&
      course[to + 1]! >= 0 &&
      Math.abs(course[to + 1]! - course[to]!) <= STEP_ROWS
    )
      to++;
    if (to - from + 1 >= least) pieces.push({ from, to, rows: smoothRows(course.subarray(from, to + 1)) });
    from = to + 1;
  }
  return pieces;
}

/** A line that is lost this near to the picture's border (columns) most likely goes on to it. */
const BORDER_COLUMNS = 16;
/** Columns from which the slope at an end is taken. */
const SLOPE_COLUMNS = 12;

/**
 * Pieces (in order) of a path of `columns`, the first and the last of which go on straight to the border where they end near
 * it: the weak start of a faint line is then looked at too.
 */
export function reachBorders(pieces: readonly PathPiece[], columns: number): PathPiece[] {
  return pieces.map((piece, n) => {
    const before = n === 0 && piece.from <= BORDER_COLUMNS ? piece.from : 0;
    const left = columns - 1 - piece.to;
    const after = n === pieces.length - 1 && left <= BORDER_COLUMNS ? left : 0;
    const { length } = piece.rows;
    const span = Math.min(SLOPE_COLUMNS, length - 1);
    const [first, last] = [piece.rows[0]!, piece.rows[length - 1]!];
    const rise = (piece.rows[span]! - first) / span;
    const fall = (last - piece.rows[length - 1 - span]!) / span;
    const rows = Float64Array.from({ length: before + length + after }, (_, i) => {
      if (i < before) return first - rise * (before - i);
      return i < before + length ? piece.rows[i - before]! : last + fall * (i - before - length + 1);
    });
    return { from: piece.from - before, to: piece.to + after, rows };
  });
}

function smoothRows(rows: Float64Array): Float64Array {
  return rows.map((_, i) => {
    const reach = Math.min(SMOOTHING, i, rows.length - 1 - i);
    let sum = 0;
    for (let d = -reach; d <= reach; d++) sum += rows[i + d]!;
    return sum / (2 * reach + 1);
  });
}
