/**
 * Neighbouring points of a line as the finder places them share their noise over about so many px along it (the sum of the
 * correlations of their errors over all lags), measured on made photographs (tests/bench/accuracy.ts): its smoothing along
 * the line (a Gaussian of 1.5 px) alone makes 2 sqrt(pi) 1.5 = 5.3, grains of speckle two columns long the rest. Means count
 * one independent value per so many px.
 */
export const FOUND_CORRELATED_PX = 6;

/** The same of a traced string or edge, which is not smoothed along itself as much. */
export const TRACED_CORRELATED_PX = 3;
