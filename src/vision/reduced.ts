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
const LONG_SIDE_PX = 1000;
/** A picture smaller than this either way (px) shows no line that could be measured. */
const LEAST_SIDE_PX = 32;
/** Sums of a block's channels fit in 16 bits up to here: 16 x 16 x 255. */
const MOST_FACTOR = 16;

/**
 * By how much a picture is reduced for finding, a whole number from 1.
 * @example reductionFactor(4000, 3000) // 4
 * @example reductionFactor(640, 480) // 1
 */
export function reductionFactor(widthPx: number, heightPx: number): number {
  return Math.min(MOST_FACTOR, Math.max(1, Math.round(Math.max(widthPx, heightPx) / LONG_SIDE_PX)));
}

/**
 * Mean of every factor x factor block of the picture; the last incomplete blocks at the right and at the
 * bottom are left out. The same as OpenCV's INTER_AREA, in half its time, since no full-size picture is
 * copied to OpenCV's heap.
 * @throws picture_too_small under 32 px either way
 */
export function reducePicture(picture: Picture, factor: number): ReducedPicture {
  const { widthPx: fullWidth, heightPx: fullHeight } = picture;
  if (Math.min(fullWidth, fullHeight) < LEAST_SIDE_PX)
    refuse({ code: 'picture_too_small', widthPx: fullWidth, heightPx: fullHeight });
  const widthPx = Math.floor(fullWidth / factor);
  const heightPx = Math.floor(fullHeight / factor);
  const pixels = asPixels(picture.rgba);
  const means = new Uint32Array(widthPx * heightPx);
  // two channels at a time, 16 bits each
  const redBlue = new Int32Array(widthPx);
  const greenAlpha = new Int32Array(widthPx);
  const half = (factor * factor) >> 1;
  const share = 1 / (factor * factor);
  const mean = (sum: number): number => ((sum & 0xffff) + half) * share;
  for (let y = 0; y < heightPx; y++) {
    redBlue.fill(0);
    greenAlpha.fill(0);
    for (let row = y * factor; row < (y + 1) * factor; row++) {
      for (let x = 0, i = row * fullWidth; x < widthPx; x++) {
        let a = 0;
        let b = 0;
        for (let k = 0; k < factor; k++, i++) {
          const pixel = pixels[i]! | 0;
          a = (a + (pixel & 0xff00ff)) | 0;
          b = (b + ((pixel >>> 8) & 0xff00ff)) | 0;
        }
        redBlue[x] = (redBlue[x]! + a) | 0;
        greenAlpha[x] = (greenAlpha[x]! + b) | 0;
      }
    }
    for (let x = 0; x < widthPx; x++) {
      const a = redBlue[x]!;
      const b = greenAlpha[x]!;
      means[y * widthPx + x] = mean(a) | (mean(b) << 8) | (mean(a >>> 16) << 16) | (mean(b >>> 16) << 24);
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
