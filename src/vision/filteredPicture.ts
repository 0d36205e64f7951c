import type { FilteredChannels } from '../core/line/strength.ts';
import { withMats } from './opencv/mats.ts';
import type { Mat, OpenCv } from './opencv/types.ts';
import type { TurnedPicture } from './turned.ts';

/**
 * Smoothing along the line (sigma, px of its level): enough for grain, short enough for curved and slanting
 * lines.
 */
const ALONG_SIGMA_PX = 1.3;
/** Width looked for across the line (sigma, px of its level). */
const ACROSS_SIGMA_PX = 1.15;
/** The reduced picture, half of it and a quarter of it. */
const LEVELS = 3;

/** Taps of a Gaussian of sum 1. */
export function gaussianKernel(sigmaPx: number): number[] {
  const reach = Math.ceil(3 * sigmaPx);
  const taps = Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-0.5 * ((i - reach) / sigmaPx) ** 2));
  const sum = taps.reduce((a, b) => a + b, 0);
  return taps.map((tap) => tap / sum);
}

/**
 * Minus the second derivative of a Gaussian, with zero sum, scaled so that a Gaussian line of that same
 * sigma gives its own amplitude (Steger 1998, "An unbiased detector of curvilinear structures", section 2).
 */
export function ridgeKernel(sigmaPx: number): number[] {
  const reach = Math.ceil(3.5 * sigmaPx);
  const at = Array.from({ length: 2 * reach + 1 }, (_, i) => (i - reach) / sigmaPx);
  const taps = at.map((t) => (1 - t * t) * Math.exp(-0.5 * t * t));
  const mean = taps.reduce((a, b) => a + b, 0) / taps.length;
  const level = taps.map((tap) => tap - mean);
  const own = level.reduce((sum, tap, i) => sum + tap * Math.exp(-0.5 * at[i]! ** 2), 0);
  return level.map((tap) => tap / own);
}

/**
 * Ridge strength (second derivative of Gaussian across, smoothed along) and smoothed value of every channel,
 * at three sizes.
 */
export function filterPicture(cv: OpenCv, picture: TurnedPicture): FilteredChannels[] {
  return withMats(cv, (keep) => {
    const kernel = (taps: number[]): Mat => keep(cv.matFromArray(taps.length, 1, cv.CV_32FC1, taps));
    const along = kernel(gaussianKernel(ALONG_SIGMA_PX));
    const smooth = kernel(gaussianKernel(ACROSS_SIGMA_PX));
    const ridge = kernel(ridgeKernel(ACROSS_SIGMA_PX));
    const alone = kernel([1]);
    const [smoothed, filtered] = [keep(new cv.Mat()), keep(new cv.Mat())];
    const filter = (mat: Mat): Filtered => {
      cv.sepFilter2D(mat, smoothed, cv.CV_32F, along, alone);
      const across = [ridge, smooth].map((taps) => {
        cv.sepFilter2D(smoothed, filtered, cv.CV_32F, alone, taps);
        return filtered.data32F.slice();
      });
      return across as Filtered;
    };
    const whole = keep(new cv.Mat(picture.acrossPx, picture.alongPx, cv.CV_8UC4));
    whole.data.set(picture.rgba);
    const planes = new cv.MatVector();
    let channels: Mat[];
    try {
      cv.split(whole, planes);
      channels = [0, 1, 2].map((i) => keep(planes.get(i)));
    } finally {
      planes.delete();
    }
    return Array.from({ length: LEVELS }, (_, level) => {
      if (level > 0) channels = channels.map((mat) => halve(cv, mat, keep));
      const [red, green, blue] = channels.map(filter) as [Filtered, Filtered, Filtered];
      return {
        width: channels[0]!.cols,
        height: channels[0]!.rows,
        ridge: [red[0], green[0], blue[0]],
        smooth: [red[1], green[1], blue[1]],
      };
    });
  });
}

type Filtered = [ridge: Float32Array, smooth: Float32Array];

function halve(cv: OpenCv, mat: Mat, keep: <M extends Mat>(mat: M) => M): Mat {
  const to = keep(new cv.Mat());
  cv.resize(mat, to, new cv.Size(Math.ceil(mat.cols / 2), Math.ceil(mat.rows / 2)), 0, 0, cv.INTER_AREA);
  return to;
}
