/**
 * The picture within reach of a line, column by column along it: value of column x and row j at [x * rows +
 * j], row j of column x lying at the across-coordinate top[x] + j (px).
 */
export interface LineBand {
  readonly columns: number;
  readonly rows: number;
  readonly top: Int32Array;
  /** Luminance (with more of red for a red laser), the laser's own channel and the other of red and green, linear light, from 0. */
  readonly light: Float32Array;
  readonly own: Float32Array;
  readonly other: Float32Array;
  /** The laser's own channel and the two others as they are in the picture, 0..255. */
  readonly channels: readonly [Uint8Array, Uint8Array, Uint8Array];
}

/**
 * One channel of a band smoothed along the line with a Gaussian (sigma in px), following the course
 * `centre` (across-coordinate per column) with interpolation between rows, never beyond the band's ends nor
 * across a column in `breaks` (rising), with which something new begins.
 */
export function smoothAlong(
  band: Pick<LineBand, 'columns' | 'rows' | 'top'>,
  channel: Float32Array,
  centre: Float64Array,
  sigmaPx: number,
  breaks: readonly number[] = [],
): Float32Array {
  const { columns, rows, top } = band;
  const reach = Math.ceil(2.5 * sigmaPx);
  const taps = Float64Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp(-0.5 * ((i - reach) / sigmaPx) ** 2),
  );
  const smoothed = new Float32Array(columns * rows);
  const sums = new Float64Array(rows);
  let [part, start, end] = [0, 0, breaks[0] ?? columns];
  for (let x = 0; x < columns; x++) {
    if (x === end) {
      part++;
      start = end;
      end = breaks[part] ?? columns;
    }
    sums.fill(0);
    let weights = 0;
    const last = Math.min(end - 1, x + reach);
    for (let from = Math.max(start, x - reach); from <= last; from++) {
      const tap = taps[from - x + reach]!;
      weights += tap;
      // row j here lies on the same parallel of the course as row j + shift there
      const shift = centre[from]! - centre[x]! + top[x]! - top[from]!;
      const whole = Math.floor(shift);
      addRows(sums, channel, from * rows, whole, tap * (1 - shift + whole), tap * (shift - whole));
    }
    const scale = 1 / weights;
    for (let j = 0, to = x * rows; j < rows; j++, to++) smoothed[to] = sums[j]! * scale;
  }
  return smoothed;
}

/** Adds a column's rows, `whole` and a fraction further on, to `sums`; its border rows go on beyond it. */
function addRows(
  sums: Float64Array,
  channel: Float32Array,
  column: number,
  whole: number,
  first: number,
  second: number,
): void {
  const rows = sums.length;
  const low = Math.min(rows, Math.max(0, -whole));
  const high = Math.max(low, Math.min(rows, rows - 1 - whole));
  const both = first + second;
  const [before, after] = [both * channel[column]!, both * channel[column + rows - 1]!];
  for (let j = 0; j < low; j++) sums[j]! += before;
  for (let j = low, i = column + whole + low; j < high; j++, i++)
    sums[j]! += first * channel[i]! + second * channel[i + 1]!;
  for (let j = high; j < rows; j++) sums[j]! += after;
}
