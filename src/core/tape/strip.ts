/**
 * Light sampled along a tape: `rows` lines of `length` samples, row-major, one sample apart both ways; the middle row runs
 * through the clicked marks.
 */
export interface Strip {
  readonly length: number;
  readonly rows: number;
  readonly values: Float32Array;
  /** Px of the picture between two samples. */
  readonly samplePx: number;
}

/** A named mark on a strip: its place on the tape's axis (mm) and where along the strip it was clicked (samples). */
export interface Click {
  readonly at: number;
  readonly place: number;
}

/** Row of the clicked line. @example middleRow({ rows: 9 }) // 4 */
export function middleRow({ rows }: Pick<Strip, 'rows'>): number {
  return (rows - 1) / 2;
}

/** Mean of a strip's rows `row - half` to `row + half` (whole or not) at a column. */
export function averageRows(
  { length, rows, values }: Strip,
  column: number,
  row: number,
  half: number,
): number {
  const count = Math.max(1, Math.round(2 * half));
  let sum = 0;
  for (let i = 0; i < count; i++) {
    const place = Math.min(rows - 1.001, Math.max(0, row + ((i + 0.5) / count - 0.5) * 2 * half));
    const upper = Math.floor(place);
    const share = place - upper;
    const at = upper * length + column;
    sum += values[at]! + share * (values[at + length]! - values[at]!);
  }
  return sum / count;
}

/** A signal less its running mean over `span` samples (made odd); ends use what there is. */
export function removeRunningMean(signal: ArrayLike<number>, span: number): Float32Array {
  const half = Math.max(1, Math.round((span - 1) / 2));
  const n = signal.length;
  const sums = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) sums[i + 1] = sums[i]! + signal[i]!;
  const kept = new Float32Array(n);
  for (let i = 0; i < n; i++) {
    const from = i > half ? i - half : 0;
    const to = i + half + 1 < n ? i + half + 1 : n;
    kept[i] = signal[i]! - (sums[to]! - sums[from]!) / (to - from);
  }
  return kept;
}
