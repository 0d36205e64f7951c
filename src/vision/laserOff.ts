import type { Picture } from './picture.ts';
import type { ReducedPicture, Region } from './reduced.ts';

/** The same view with the laser off, registered to the photograph with the laser on. */
export interface LaserOff {
  readonly picture: Picture;
  /** Homography, row by row: where a place of the photograph (px, whole size) is in the picture with the laser off. */
  readonly map: readonly number[];
  /** For every channel and value 0..255: the value it would have at the photograph's exposure. */
  readonly levels: readonly [Float32Array, Float32Array, Float32Array];
}

/** What is in both pictures comes out at this level, so that noise below it is not cut off. */
const GROUND = 60;
/** A clipped value stays so where the light was well below it before. */
const CLIPPED = 250;
const BELOW = 200;

/** A value of the photograph less what it is without the laser, both 0..255. @example subtractLevel(90, 80) // 70 */
export const subtractLevel = (on: number, off: number): number =>
  on >= CLIPPED && off < BELOW ? on : on - off + GROUND;

/** Reads a registered picture at places of the photograph: fills `into` with red, green and blue at its exposure. */
export function readLaserOff(
  { picture, map, levels }: LaserOff,
  scale: number,
  u: number,
  v: number,
  into: Float64Array,
): void {
  const { widthPx, heightPx, rgba } = picture;
  const [a, b, c, d, e, f, g, h, i] = map as readonly [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  // pixel centres are whole numbers at either size
  const [x, y] = [(u + 0.5) * scale - 0.5, (v + 0.5) * scale - 0.5];
  const w = 1 / (g * x + h * y + i);
  const toX = ((a * x + b * y + c) * w + 0.5) / scale - 0.5;
  const toY = ((d * x + e * y + f) * w + 0.5) / scale - 0.5;
  const left = toX < 0 ? 0 : toX > widthPx - 1 ? widthPx - 1 : toX;
  const top = toY < 0 ? 0 : toY > heightPx - 1 ? heightPx - 1 : toY;
  const x0 = Math.min(widthPx - 2, Math.floor(left));
  const y0 = Math.min(heightPx - 2, Math.floor(top));
  const [p, q] = [left - x0, top - y0];
  const k = 4 * (y0 * widthPx + x0);
  const below = k + 4 * widthPx;
  for (let channel = 0; channel < 3; channel++) {
    const of = levels[channel]!;
    into[channel] =
      (1 - q) * ((1 - p) * of[rgba[k + channel]!]! + p * of[rgba[k + 4 + channel]!]!) +
      q * ((1 - p) * of[rgba[below + channel]!]! + p * of[rgba[below + 4 + channel]!]!);
  }
}

/**
 * Takes what is to be seen without the laser off a part of a reduced picture, in place; `off` is the laser-off picture
 * reduced by the same factor.
 */
export function subtractReduced(
  { rgba, widthPx, heightPx, factor }: ReducedPicture,
  { left, top }: Pick<Region, 'left' | 'top'>,
  off: LaserOff,
): void {
  const without = new Float64Array(3);
  for (let y = 0, k = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++, k += 4) {
      readLaserOff(off, factor, left + x, top + y, without);
      for (let c = 0; c < 3; c++) {
        const level = subtractLevel(rgba[k + c]!, without[c]!) + 0.5;
        rgba[k + c] = level < 0 ? 0 : level > 255 ? 255 : level;
      }
    }
}
