/**
 * Modified Bessel function K1(x), x > 0; absolute error of x K1 under 1e-7.
 * Source: Abramowitz & Stegun 9.8.3, 9.8.7, 9.8.8 (polynomials by Allen).
 * @example Math.round(besselK1(1) * 1e6) / 1e6 // 0.601907
 */
export function besselK1(x: number): number {
  if (x <= 2) {
    const t = (x / 3.75) ** 2;
    const i1 =
      x *
      (0.5 +
        t *
          (0.87890594 +
            t * (0.51498869 + t * (0.15084934 + t * (0.02658733 + t * (0.00301532 + t * 0.00032411))))));
    const y = (x * x) / 4;
    const rest =
      1 +
      y *
        (0.15443144 +
          y * (-0.67278579 + y * (-0.18156897 + y * (-0.01919402 + y * (-0.00110404 + y * -0.00004686)))));
    return Math.log(x / 2) * i1 + rest / x;
  }
  const y = 2 / x;
  const series =
    1.25331414 +
    y *
      (0.23498619 +
        y * (-0.0365562 + y * (0.01504268 + y * (-0.00780353 + y * (0.00325614 + y * -0.00068245)))));
  return (Math.exp(-x) / Math.sqrt(x)) * series;
}

/**
 * Correlation of a Matern field of smoothness nu = 1 at a distance (mm), x K1(x) with x = sqrt(8) distance / range; about 0.14
 * at the range. Source: Lindgren, Rue & Lindstrom 2011, J. R. Statist. Soc. B 73(4), eq. 1 and section 2.1.
 * @example maternCorrelation(0, 900) // 1
 */
export function maternCorrelation(distanceMm: number, rangeMm: number): number {
  const x = (Math.SQRT2 * 2 * distanceMm) / rangeMm;
  return x < 1e-9 ? 1 : x * besselK1(x);
}
