import type { ImagePoint } from '../camera/frames.ts';
import type { Strip } from './strip.ts';

/** A piece of a photograph in grey (0 to 255), row by row; its first value is the pixel at `u0`, `v0`. */
export interface GreyCrop {
  readonly values: Float32Array;
  readonly width: number;
  readonly height: number;
  readonly u0: number;
  readonly v0: number;
}

/**
 * The strip of light through `middle` along a unit direction of the picture, one px from sample to sample: `length` samples (odd)
 * and `rows` rows (odd) about the middle. Null where it leaves the piece.
 */
export function cutStrip(
  { values, width, height, u0, v0 }: GreyCrop,
  middle: ImagePoint,
  along: ImagePoint,
  length: number,
  rows: number,
): Strip | null {
  const across = { u: -along.v, v: along.u };
  const strip = new Float32Array(length * rows);
  for (let row = 0; row < rows; row++)
    for (let i = 0; i < length; i++) {
      const [s, r] = [i - (length - 1) / 2, row - (rows - 1) / 2];
      const x = middle.u - u0 + s * along.u + r * across.u;
      const y = middle.v - v0 + s * along.v + r * across.v;
      const left = Math.floor(x);
      const top = Math.floor(y);
      if (left < 0 || top < 0 || left + 1 >= width || top + 1 >= height) return null;
      const at = top * width + left;
      const upper = values[at]! + (x - left) * (values[at + 1]! - values[at]!);
      const lower = values[at + width]! + (x - left) * (values[at + width + 1]! - values[at + width]!);
      strip[row * length + i] = upper + (y - top) * (lower - upper);
    }
  return { length, rows, values: strip, samplePx: 1 };
}
