import type { Placement } from './placement.ts';
import { medianOf, runningMedian } from './running.ts';

/** Columns this far apart no longer share their smoothing, nor a grain of speckle. */
const APART_PX = 6;
const WINDOW_PX = 96;
/** What little they still share. */
const CORRELATION_LOSS = 1.05;
/** The fit of a cross-section that is not known beforehand: a little worse than the best possible estimate. */
const FIT_LOSS = 1.15;
/**
 * A profile that leans (texture, a step) more than is usual on this line may lie off by this share of what its highest
 * chord is off the lowest.
 */
const SKEW_SHARE = 0.3;
const UNUSUAL_SIGMAS = 3;
/** What rounding and resampling leave at best (px). */
const LEAST_PX = 0.015;
/** And between the rows of a line that few rows show, over the square of its width in rows (measured on made photographs). */
const SAMPLING_PX = 0.04;
/** Mean absolute deviation from the median of a normal to its standard deviation. */
const MEDIAN_TO_SIGMA = 1.4826;

/**
 * Standard deviation of every placed column (px), NaN where nothing is placed: the larger of what the
 * background's noise allows (Cramer-Rao bound of a Gaussian line, sigma / amplitude * sqrt(2 w / sqrt(pi)), w
 * its sigma) and the scatter of the line itself over about 200 columns, which holds speckle: c(x) - (c(x - 6)
 * + c(x + 6)) / 2 has 1.5 times the variance of one column. A profile unusually lopsided adds to it.
 */
export function pointSigmas(placement: Placement): Float64Array {
  const { across, profiles } = placement;
  const count = across.length;
  const scatter = new Float64Array(count).fill(NaN);
  for (let x = APART_PX; x < count - APART_PX; x++)
    scatter[x] = Math.abs(across[x]! - (across[x - APART_PX]! + across[x + APART_PX]!) / 2);
  const local = runningMedian(scatter, WINDOW_PX, 16);
  const skews = Float64Array.from(profiles, ({ row, skewRows }) => (Number.isNaN(row) ? NaN : skewRows));
  const skew = medianOf(skews);
  for (let x = 0; x < count; x++) skews[x] = Math.abs(skews[x]! - skew);
  const usualSkew = UNUSUAL_SIGMAS * MEDIAN_TO_SIGMA * medianOf(skews);
  const toNoise = CORRELATION_LOSS * MEDIAN_TO_SIGMA * Math.sqrt(1 / 1.5);
  const sigmas = new Float64Array(count).fill(NaN);
  for (let x = 0; x < count; x++) {
    if (Number.isNaN(across[x]!)) continue;
    const { noise, amplitude, widthRows } = profiles[x]!;
    const bound = (noise / amplitude) * Math.sqrt((2 * widthRows) / (2.3548 * Math.sqrt(Math.PI)));
    const scattered = toNoise * local[x]!;
    const random = Math.max(LEAST_PX, FIT_LOSS * bound, Number.isNaN(scattered) ? 0 : scattered);
    const sampling = SAMPLING_PX / widthRows ** 2;
    sigmas[x] = Math.hypot(random, sampling, SKEW_SHARE * Math.max(0, skews[x]! - usualSkew));
  }
  return sigmas;
}
