/** ln Gamma of x > 0. Source: Lanczos 1964, g = 7 with nine terms (coefficients as in common use, from memory). */
function logGamma(x: number): number {
  const terms = [
    0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
    12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
  ];
  const y = x - 1;
  const t = y + 7.5;
  let sum = terms[0]!;
  for (let k = 1; k < terms.length; k++) sum += terms[k]! / (y + k);
  return 0.5 * Math.log(2 * Math.PI) + (y + 0.5) * Math.log(t) - t + Math.log(sum);
}

/**
 * Probability that a chi-square variable with `freedom` degrees (> 0, need not be whole) is at most `square`.
 * Source: regularised incomplete gamma function by series and continued fraction, Abramowitz & Stegun 1964, 6.5.29, 6.5.31, 26.4.
 * @example chiSquareProbability(2, 2) // 0.6321205588285577
 */
export function chiSquareProbability(square: number, freedom: number): number {
  if (square <= 0) return 0;
  const a = freedom / 2;
  const x = square / 2;
  const scale = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let k = 1; Math.abs(term) > 1e-16 * sum; k++) {
      term *= x / (a + k);
      sum += term;
    }
    return scale * sum;
  }
  // modified Lentz
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let fraction = d;
  for (let k = 1; ; k++) {
    const next = -k * (k - a);
    b += 2;
    d = 1 / (next * d + b);
    c = b + next / c;
    fraction *= c * d;
    if (Math.abs(c * d - 1) < 1e-15 || k > 10_000) return 1 - scale * fraction;
  }
}

/**
 * The chi-square value with `freedom` degrees (> 0) that is passed from below with a probability (between 0 and 1), by bisection.
 * @example chiSquareQuantile(0.6321205588285577, 2) // 2
 */
export function chiSquareQuantile(probability: number, freedom: number): number {
  let low = 0;
  let high = Math.max(1, freedom);
  while (chiSquareProbability(high, freedom) < probability) high *= 2;
  while (high - low > 1e-13 * high) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (chiSquareProbability(middle, freedom) < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
