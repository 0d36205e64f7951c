import { testObservation, type ObservationTest } from './baarda.ts';

/** A linear least-squares fit. */
export interface LeastSquares {
  readonly solution: Float64Array;
  /** Observed less fitted, per observation. */
  readonly residuals: Float64Array;
  /** (A'WA)^-1, n x n row-major: the covariance where the sigmas are right. */
  readonly cofactors: Float64Array;
  /** Sum of squared residuals over sigma: v'Pv. */
  readonly squareSum: number;
  readonly redundancy: number;
  /** sqrt(v'Pv / redundancy); NaN without redundancy. */
  readonly unitSigma: number;
  /** Baarda's test of each observation. */
  readonly tests: readonly ObservationTest[];
}

/** A column whose remainder is under this share of its length depends on the columns before it. */
const RANK_TOLERANCE = 1e-13;

/**
 * Least squares by Householder QR (no normal equations, so that badly conditioned regressions keep their figures): `design`
 * m x n row-major, `observed` m values, `sigmas` m standard deviations (1 where not given).
 * A rank-deficient design is a bug of the caller: plain Error.
 * Source: Golub & Van Loan, Matrix Computations, 5.2.2 and 5.3.2; redundancy and w: Baarda 1968.
 * @example leastSquares(Float64Array.of(1, 1, 1, 2, 1, 3), 2, Float64Array.of(1, 2, 3)).solution // [0, 1]
 */
export function leastSquares(
  design: Float64Array,
  n: number,
  observed: Float64Array,
  sigmas: Float64Array = new Float64Array(observed.length).fill(1),
): LeastSquares {
  const m = observed.length;
  if (design.length !== m * n || m < n)
    throw new Error(`expected ${m} x ${n} design with m >= n, got ${design.length}`);
  const q = Float64Array.from(design, (value, at) => value / sigmas[Math.floor(at / n)]!);
  const b = observed.map((value, i) => value / sigmas[i]!);
  const r = triangulate(q, m, n, b);
  const solution = backSubstitute(r, n, b);
  const residuals = observed.map((value, i) => {
    let rest = value;
    for (let k = 0; k < n; k++) rest -= design[i * n + k]! * solution[k]!;
    return rest;
  });
  const inverse = invertUpper(r, n);
  const cofactors = multiplyByTranspose(inverse, n);
  let squareSum = 0;
  residuals.forEach((v, i) => (squareSum += (v / sigmas[i]!) ** 2));
  const redundancy = m - n;
  const tests = Array.from(residuals, (v, i) => {
    let variance = 0;
    for (let j = 0; j < n; j++) {
      let sum = 0;
      for (let k = 0; k <= j; k++) sum += inverse[k * n + j]! * design[i * n + k]!;
      variance += sum * sum;
    }
    return testObservation(v, sigmas[i]!, variance);
  });
  return {
    solution,
    residuals,
    cofactors,
    squareSum,
    redundancy,
    unitSigma: redundancy > 0 ? Math.sqrt(squareSum / redundancy) : NaN,
    tests,
  };
}

/** Reduces a (m x n) to R by reflections, applied to b as well; returns R, n x n. */
function triangulate(a: Float64Array, m: number, n: number, b: Float64Array): Float64Array {
  for (let k = 0; k < n; k++) {
    let whole = 0;
    for (let i = 0; i < m; i++) whole += a[i * n + k]! ** 2;
    let below = 0;
    for (let i = k; i < m; i++) below += a[i * n + k]! ** 2;
    const length = Math.sqrt(below);
    if (!(length > RANK_TOLERANCE * Math.sqrt(whole)) || whole === 0)
      throw new Error(`least squares: column ${k} depends on the columns before it`);
    const pivot = a[k * n + k]!;
    const diagonal = pivot > 0 ? -length : length;
    const v = new Float64Array(m);
    for (let i = k; i < m; i++) v[i] = a[i * n + k]!;
    v[k] = pivot - diagonal;
    // v'v = 2 length (length + |pivot|)
    const scale = 1 / (length * (length + Math.abs(pivot)));
    for (let j = k; j < n; j++) {
      let dot = 0;
      for (let i = k; i < m; i++) dot += v[i]! * a[i * n + j]!;
      for (let i = k; i < m; i++) a[i * n + j]! -= scale * dot * v[i]!;
    }
    let dot = 0;
    for (let i = k; i < m; i++) dot += v[i]! * b[i]!;
    for (let i = k; i < m; i++) b[i]! -= scale * dot * v[i]!;
  }
  return a.slice(0, n * n);
}

function backSubstitute(r: Float64Array, n: number, b: Float64Array): Float64Array {
  const x = new Float64Array(n);
  for (let i = n - 1; i >= 0; i--) {
    let rest = b[i]!;
    for (let k = i + 1; k < n; k++) rest -= r[i * n + k]! * x[k]!;
    x[i] = rest / r[i * n + i]!;
  }
  return x;
}

/** R^-1, upper triangular. */
function invertUpper(r: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    const unit = new Float64Array(n);
    unit[j] = 1;
    const column = backSubstitute(r, n, unit);
    for (let i = 0; i <= j; i++) inverse[i * n + j] = column[i]!;
  }
  return inverse;
}

/** U U', n x n. */
function multiplyByTranspose(u: Float64Array, n: number): Float64Array {
  const product = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      let sum = 0;
      for (let k = Math.max(i, j); k < n; k++) sum += u[i * n + k]! * u[j * n + k]!;
      product[i * n + j] = sum;
    }
  return product;
}
