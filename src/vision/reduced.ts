import { refuse } from '../core/refusal.ts';
import { withMats } from './opencv/mats.ts';
import type { OpenCv } from './opencv/types.ts';
import type { Picture } from './picture.ts';

/** A picture reduced by a whole factor, RGBA, 8 bits, row by row: pixel (x, y) covers full-size pixels from factor * x on. */
export interface ReducedPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly factor: number;
  readonly rgba: Uint8Array;
}

/** Long side aimed at (px): a laser line of a phone photograph is then about two pixels wide. */
const LONG_SIDE_PX = 1000;
/** Full-size pixels handed to OpenCV at a time, so that its heap stays small whatever the picture's size. */
const STRIP_PX = 4e6;
/** A picture smaller than this either way (px) shows no line that could be measured. */
const LEAST_SIDE_PX = 32;

/**
 * By how much a picture is reduced for finding, a whole number from 1.
 * @example reductionFactor(4000, 3000) // 4
 * @example reductionFactor(640, 480) // 1
 */
export function reductionFactor(widthPx: number, heightPx: number): number {
  return Math.max(1, Math.round(Math.max(widthPx, heightPx) / LONG_SIDE_PX));
}

/**
 * Mean of every factor x factor block of the picture (OpenCV's INTER_AREA), strip by strip; the last incomplete blocks at the
 * right and at the bottom are left out.
 * @throws picture_too_small under 32 px either way
 */
export function reducePicture(cv: OpenCv, picture: Picture, factor: number): ReducedPicture {
  if (Math.min(picture.widthPx, picture.heightPx) < LEAST_SIDE_PX)
    refuse({ code: 'picture_too_small', widthPx: picture.widthPx, heightPx: picture.heightPx });
  const widthPx = Math.floor(picture.widthPx / factor);
  const heightPx = Math.floor(picture.heightPx / factor);
  const rgba = new Uint8Array(widthPx * heightPx * 4);
  const stripRows = Math.max(1, Math.floor(STRIP_PX / (picture.widthPx * factor)));
  for (let row = 0; row < heightPx; row += stripRows) {
    const rows = Math.min(stripRows, heightPx - row);
    withMats(cv, (keep) => {
      const source = keep(new cv.Mat(rows * factor, picture.widthPx, cv.CV_8UC4));
      const from = row * factor * picture.widthPx * 4;
      source.data.set(picture.rgba.subarray(from, from + rows * factor * picture.widthPx * 4));
      const whole = keep(source.roi(new cv.Rect(0, 0, widthPx * factor, rows * factor)));
      const small = keep(new cv.Mat());
      cv.resize(whole, small, new cv.Size(widthPx, rows), 0, 0, cv.INTER_AREA);
      rgba.set(small.data, row * widthPx * 4);
    });
  }
  return { widthPx, heightPx, factor, rgba };
}
