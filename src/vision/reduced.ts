import { refuse } from '../core/refusal.ts';
import type { Picture } from './picture.ts';

/**
 * A picture reduced by a whole factor, RGBA, 8 bits, row by row: pixel (x, y) covers full-size pixels from
 * factor * x on.
 */
export interface ReducedPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly factor: number;
  readonly rgba: Uint8Array;
}

/** Long side aimed at (px): a laser line of a phone photograph is then about two pixels wide. */
const LONG_SIDE_PX = 800;
/** A picture smaller than this either way (px) shows no line that could be measured. */
const LEAST_SIDE_PX = 32;
/** Sums of a block's channels fit in 16 bits up to here: 16 x 16 x 255. */
const MOST_FACTOR = 16;
/** Every second channel of a packed pixel. */
const MASK = 0xff00ff;

/**
 * By how much a picture is reduced for finding, a whole number from 1.
 * @example reductionFactor(4000, 3000) // 5
 * @example reductionFactor(640, 480) // 1
 */
export function reductionFactor(widthPx: number, heightPx: number): number {
  return Math.min(MOST_FACTOR, Math.max(1, Math.round(Math.max(widthPx, heightPx) / LONG_SIDE_PX)));
}

/** From this factor on every second row of a block stands for both: half the time, and a line is wider than that. */
const SKIPPED_FACTOR = 4;

/** A part of a reduced picture, in its own px. */
export interface Region {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/**
 * The whole of a picture reduced by a factor; the last incomplete blocks at the right and at the bottom are left out.
 * @throws picture_too_small under 32 px either way
 */
export function wholeRegion({ widthPx, heightPx }: Picture, factor: number): Region {
  if (Math.min(widthPx, heightPx) < LEAST_SIDE_PX) refuse({ code: 'picture_too_small', widthPx, heightPx });
  return { left: 0, top: 0, width: Math.floor(widthPx / factor), height: Math.floor(heightPx / factor) };
}

/**
 * Mean of every factor x factor block of a region of the picture (of its every second row from a factor of 4 on). Up to
 * there the same as OpenCV's INTER_AREA, in half its time, since no full-size picture is copied to OpenCV's heap.
 */
export function reducePicture(picture: Picture, factor: number, region: Region): ReducedPicture {
  const { widthPx: fullWidth } = picture;
  const { left, top, width: widthPx, height: heightPx } = region;
  const pixels = asPixels(picture.rgba);
  const means = new Uint32Array(widthPx * heightPx);
  const rowStep = factor < SKIPPED_FACTOR ? 1 : 2;
  const count = factor * Math.ceil(factor / rowStep);
  const half = count >> 1;
  // 1 / count in 65536ths: a sum of `count` bytes times it fits in 32 bits
  const share = Math.round(65536 / count);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      // two channels at a time, 16 bits each
      let a = 0;
      let b = 0;
      for (let row = (top + y) * factor; row < (top + y + 1) * factor; row += rowStep) {
        let i = row * fullWidth + (left + x) * factor;
        let rest = factor;
        for (; rest >= 4; rest -= 4, i += 4) {
          const p = pixels[i]! | 0;
          const q = pixels[i + 1]! | 0;
          const r = pixels[i + 2]! | 0;
          const s = pixels[i + 3]! | 0;
          a = (a + (p & MASK) + (q & MASK) + (r & MASK) + (s & MASK)) | 0;
          b = (b + ((p >>> 8) & MASK) + ((q >>> 8) & MASK) + ((r >>> 8) & MASK) + ((s >>> 8) & MASK)) | 0;
        }
        for (; rest > 0; rest--, i++) {
          const pixel = pixels[i]! | 0;
          a = (a + (pixel & MASK)) | 0;
          b = (b + ((pixel >>> 8) & MASK)) | 0;
        }
      }
      const red = (((a & 0xffff) + half) * share) >>> 16;
      const green = (((b & 0xffff) + half) * share) >>> 16;
      const blue = (((a >>> 16) + half) * share) >>> 16;
      means[y * widthPx + x] = red | (green << 8) | (blue << 16) | 0xff000000;
    }
  }
  return { widthPx, heightPx, factor, rgba: new Uint8Array(means.buffer) };
}

/**
 * The bytes as one number per pixel (little-endian, as every device this runs on), copied only if they do not
 * lie so.
 */
function asPixels(rgba: Uint8ClampedArray | Uint8Array): Uint32Array {
  const bytes = rgba.byteOffset % 4 === 0 ? rgba : rgba.slice();
  return new Uint32Array(bytes.buffer, bytes.byteOffset, bytes.length >> 2);
}
