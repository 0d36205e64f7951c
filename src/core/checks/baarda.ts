/** Two-sided 0.1 % of the standard normal distribution: the limit of Baarda's w. Baarda 1968, Netherlands Geodetic Commission 2(5). */
export const CRITICAL_W = 3.290526731491926;
/** sqrt of the non-centrality of a test at 0.1 % with power 0.80: 3.2905 + 0.8416. Same source. */
export const DETECTABLE_SHIFT = 4.132147965064809;
/** Below this share of redundancy an observation is checked by nothing else. */
const LEAST_REDUNDANCY = 1e-6;

/** How one observation stands against all the others. */
export interface ObservationTest {
  /** Observed less adjusted. */
  readonly residual: number;
  /** Share of an error in the observation that shows in its own residual, 0 to 1. */
  readonly redundancy: number;
  /** Standardised residual; 0 where nothing checks the observation. */
  readonly w: number;
  /** Smallest error found with probability 0.80 at 0.1 %, in the observation's unit; Infinity where nothing checks it. */
  readonly detectable: number;
}

/**
 * Baarda's test of an observation that took part: w = v / (sigma sqrt(r)), r = 1 - adjusted variance / sigma^2.
 * Source: Baarda 1968; Ghilani & Wolf, Adjustment Computations, ch. 21.
 * @example testObservation(3, 1, 0.75).w // 6
 */
export function testObservation(residual: number, sigma: number, adjustedVariance: number): ObservationTest {
  const redundancy = Math.min(1, Math.max(0, 1 - adjustedVariance / sigma ** 2));
  if (redundancy < LEAST_REDUNDANCY) return { residual, redundancy, w: 0, detectable: Infinity };
  const root = Math.sqrt(redundancy);
  return {
    residual,
    redundancy,
    w: residual / (sigma * root),
    detectable: (DETECTABLE_SHIFT * sigma) / root,
  };
}

/**
 * The same test of an observation that was left out: its misfit against what the others predict, w = v / sqrt(sigma^2 +
 * predicted variance). Equal to the w it would have had, taking part (deletion residual; Cook & Weisberg 1982, 2.2.2).
 * @example testLeftOut(5, 3, 16).w // 1
 */
export function testLeftOut(residual: number, sigma: number, predictedVariance: number): ObservationTest {
  const spread = Math.sqrt(sigma ** 2 + predictedVariance);
  return {
    residual,
    redundancy: sigma ** 2 / spread ** 2,
    w: residual / spread,
    detectable: DETECTABLE_SHIFT * spread,
  };
}
