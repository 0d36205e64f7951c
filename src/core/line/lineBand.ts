/**
 * The picture within reach of a line, column by column along it: value of column x and row j at [x * rows +
 * j], row j of column x lying at the across-coordinate top[x] + j (px).
 */
export interface LineBand {
  readonly columns: number;
  readonly rows: number;
  readonly top: Int32Array;
  /** Luminance, the laser's own channel and the other of red and green, linear light, 0..255. */
  readonly light: Float32Array;
  readonly own: Float32Array;
  readonly other: Float32Array;
  /** The laser's own channel and the two others as they are in the picture, 0..255. */
  readonly channels: readonly [Uint8Array, Uint8Array, Uint8Array];
}

/**
 * One channel of a band smoothed along the line with a Gaussian (sigma in px), following the course
 * `centre` (across-coordinate per column) with interpolation between rows, never beyond the band's ends.
 */
export function smoothAlong(
  band: Pick<LineBand, 'columns' | 'rows' | 'top'>,
  channel: Float32Array,
  centre: Float64Array,
  sigmaPx: number,
): Float32Array {
  const { columns, rows, top } = band;
  const reach = Math.ceil(2.5 * sigmaPx);
  const taps = Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-0.5 * ((i - reach) / sigmaPx) ** 2));
  const smoothed = new Float32Array(columns * rows);
  for (let x = 0; x < columns; x++) {
    const to = x * rows;
    let sum = 0;
    for (let d = Math.max(-reach, -x); d <= Math.min(reach, columns - 1 - x); d++) {
      const tap = taps[d + reach]!;
      sum += tap;
      // row j here lies on the same parallel of the course as row j + shift there
      const shift = centre[x + d]! - centre[x]! + top[x]! - top[x + d]!;
      const whole = Math.floor(shift);
      const second = tap * (shift - whole);
      const first = tap - second;
      const from = (x + d) * rows;
      for (let j = 0; j < rows; j++) {
        let a = j + whole;
        a = a < 0 ? 0 : a > rows - 1 ? rows - 1 : a;
        const b = a + 1 > rows - 1 ? a : a + 1;
        smoothed[to + j]! += first * channel[from + a]! + second * channel[from + b]!;
      }
    }
    for (let j = 0; j < rows; j++) smoothed[to + j]! /= sum;
  }
  return smoothed;
}
