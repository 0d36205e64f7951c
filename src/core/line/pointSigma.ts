import type { Placement } from './placement.ts';
import { runningMedian } from './running.ts';

/** Columns this far apart no longer share their smoothing. */
const APART_PX = 5;
const WINDOW_PX = 96;
/** Grains of speckle are about two columns long: five apart they still share a little. */
const CORRELATION_LOSS = 1.08;
/** Chords use the flanks only: a little worse than the best possible estimate. */
const CHORD_LOSS = 1.15;
/**
 * A lopsided profile (texture, a step) may lie off by this share of what its highest chord is off the lowest.
 */
const SKEW_SHARE = 0.3;
/** What rounding and resampling leave at best (px). */
const LEAST_PX = 0.02;

/**
 * Standard deviation of every placed column (px), NaN where nothing is placed: the larger of what the
 * background's noise allows (Cramer-Rao bound of a Gaussian line, sigma / amplitude * sqrt(2 w / sqrt(pi)), w
 * its sigma) and the scatter of the line itself over about 200 columns, which holds speckle: c(x) - (c(x - 5)
 * + c(x + 5)) / 2 has 1.5 times the variance of one column. A lopsided profile adds to it.
 */
export function pointSigmas(placement: Placement): Float64Array {
  const { across, profiles } = placement;
  const scatter = across.map((value, x) =>
    Math.abs(value - ((across[x - APART_PX] ?? NaN) + (across[x + APART_PX] ?? NaN)) / 2),
  );
  const local = runningMedian(scatter, WINDOW_PX, 16);
  return across.map((value, x) => {
    if (Number.isNaN(value)) return NaN;
    const { noise, amplitude, widthRows, skewRows } = profiles[x]!;
    const bound = (noise / amplitude) * Math.sqrt((2 * widthRows) / (2.3548 * Math.sqrt(Math.PI)));
    const scattered = (CORRELATION_LOSS * 1.4826 * local[x]!) / Math.sqrt(1.5);
    const random = Math.max(LEAST_PX, CHORD_LOSS * bound, Number.isNaN(scattered) ? 0 : scattered);
    return Math.hypot(random, SKEW_SHARE * skewRows);
  });
}
