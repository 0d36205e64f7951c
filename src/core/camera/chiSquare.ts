/** Standard normal quantile of 0.999. */
const Z_999 = 3.0902;

/**
 * 99.9 % point of chi-square, to 3 % of itself; 0 without redundancy.
 * Source: Wilson and Hilferty 1931, "The distribution of chi-square", PNAS 17(12).
 */
export function chiSquare999(redundancy: number): number {
  if (redundancy < 1) return 0;
  const spread = 2 / (9 * redundancy);
  return redundancy * (1 - spread + Z_999 * Math.sqrt(spread)) ** 3;
}
