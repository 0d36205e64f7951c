/** Least squares in three terms: their values, the variance of each but for the observations' own, and the squares left over. */
export interface ThreeTerms {
  readonly values: readonly [number, number, number];
  readonly variances: readonly [number, number, number];
  readonly squareSum: number;
}

/** Gathers observations of a sum of three terms one by one: a few to a thousand small fits, without an array. */
export class ThreeTermFit {
  private readonly n = new Float64Array(6);
  private readonly b = new Float64Array(3);
  private squares = 0;
  count = 0;

  /** One more observation: factors of the three terms, what was observed and its weight (1 / sigma^2). */
  add(p: number, q: number, r: number, observed: number, weight = 1): void {
    const { n, b } = this;
    n[0]! += weight * p * p;
    n[1]! += weight * p * q;
    n[2]! += weight * p * r;
    n[3]! += weight * q * q;
    n[4]! += weight * q * r;
    n[5]! += weight * r * r;
    b[0]! += weight * p * observed;
    b[1]! += weight * q * observed;
    b[2]! += weight * r * observed;
    this.squares += weight * observed * observed;
    this.count++;
  }

  /** The three terms, by the normal equations; null where the observations do not tell them apart. */
  solve(): ThreeTerms | null {
    const [pp, pq, pr, qq, qr, rr] = this.n as unknown as [number, number, number, number, number, number];
    const a = qq * rr - qr * qr;
    const d = pr * qr - pq * rr;
    const e = pq * qr - pr * qq;
    const det = pp * a + pq * d + pr * e;
    if (!(det > 1e-12 * pp * qq * rr)) return null;
    const f = pp * rr - pr * pr;
    const g = pq * pr - pp * qr;
    const h = pp * qq - pq * pq;
    const [x, y, z] = this.b as unknown as [number, number, number];
    const values = [
      (a * x + d * y + e * z) / det,
      (d * x + f * y + g * z) / det,
      (e * x + g * y + h * z) / det,
    ] as const;
    const explained = values[0] * x + values[1] * y + values[2] * z;
    return {
      values,
      variances: [a / det, f / det, h / det],
      squareSum: Math.max(0, this.squares - explained),
    };
  }
}
