import { factorBand, invertBand, readBand, solveLower, solveUpper, type BandMatrix } from './banded.ts';
import { factorDense, invertDense, solveDenseLower, solveDenseUpper } from './dense.ts';

/**
 * Symmetric positive definite matrix of a band and a dense border of m unknowns,
 *   [ A  B ]
 *   [ B' C ]
 * `border` holds B column after column (m x n values), `corner` C row-major (m x m, both halves).
 */
export interface BorderedMatrix {
  readonly band: BandMatrix;
  readonly m: number;
  readonly border: Float64Array;
  readonly corner: Float64Array;
}

/** L of the band, V = L^-1 B column after column, and M of the Schur complement C - V'V = M M'. */
export interface BorderedFactor {
  readonly band: BandMatrix;
  readonly m: number;
  readonly border: Float64Array;
  readonly corner: Float64Array;
}

/** An all-zero bordered matrix of n band and m border unknowns. */
export function createBordered(band: BandMatrix, m: number): BorderedMatrix {
  return { band, m, border: new Float64Array(m * band.n), corner: new Float64Array(m * m) };
}

/**
 * Cholesky factor of a bordered matrix by its Schur complement, written over the matrix given. Cost n b^2 / 2 + n m (b + m / 2)
 * multiply-adds. Source: Golub & Van Loan, Matrix Computations, 3.2.11 (block elimination).
 */
export function factorBordered(matrix: BorderedMatrix): BorderedFactor {
  const { m, border, corner } = matrix;
  const n = matrix.band.n;
  const band = factorBand(matrix.band);
  for (let q = 0; q < m; q++) solveLower(band, border, q * n);
  for (let q = 0; q < m; q++)
    for (let p = 0; p <= q; p++) {
      corner[q * m + p]! -= dotColumns(border, q * n, p * n, n);
    }
  return { band, m, border, corner: factorDense(corner, m) };
}

function dotColumns(a: Float64Array, p: number, q: number, n: number): number {
  let s0 = 0;
  let s1 = 0;
  let i = 0;
  for (; i + 1 < n; i += 2) {
    s0 += a[p + i]! * a[q + i]!;
    s1 += a[p + i + 1]! * a[q + i + 1]!;
  }
  return i < n ? s0 + s1 + a[p + i]! * a[q + i]! : s0 + s1;
}

/** Solves the bordered system in place: `x` the n band values, `y` the m border values, right-hand sides on entry. */
export function solveBordered(factor: BorderedFactor, x: Float64Array, y: Float64Array): void {
  const { band, m, border, corner } = factor;
  const n = band.n;
  solveLower(band, x);
  for (let q = 0; q < m; q++) {
    let sum = 0;
    for (let i = 0; i < n; i++) sum += border[q * n + i]! * x[i]!;
    y[q]! -= sum;
  }
  solveDenseLower(corner, m, y);
  solveDenseUpper(corner, m, y);
  for (let q = 0; q < m; q++) {
    const yq = y[q]!;
    if (yq !== 0) for (let i = 0; i < n; i++) x[i]! -= border[q * n + i]! * yq;
  }
  solveUpper(band, x);
}

/** Covariance of the border unknowns: the corner of the inverse, row-major m x m. */
export function borderCovariance(factor: BorderedFactor): Float64Array {
  return invertDense(factor.corner, factor.m);
}

/** What variances are read from: the inverse of A inside the band, W = A^-1 B column after column, the Schur factor. */
export interface BorderedInverse {
  readonly band: BandMatrix;
  readonly m: number;
  readonly w: Float64Array;
  readonly corner: Float64Array;
}

/** Prepares a factor for reading variances: A^-1 inside the band by Takahashi's recursion, and W. */
export function invertBordered(factor: BorderedFactor): BorderedInverse {
  const { band, m, border, corner } = factor;
  const w = border.slice();
  for (let q = 0; q < m; q++) solveUpper(band, w, q * band.n);
  return { band: invertBand(band), m, w, corner };
}

/**
 * Variance of a linear combination sum nodeFactors x + sum factors y of band unknowns x (all within one bandwidth) and border
 * unknowns y: a'A^-1 a + (c - W'a)' S^-1 (c - W'a), S the Schur complement.
 * Source: inverse of a block matrix, Golub & Van Loan 3.2.11; A^-1 as `invertBand`.
 */
export function findVariance(
  inverse: BorderedInverse,
  nodes: readonly number[],
  nodeFactors: readonly number[],
  unknowns: readonly number[],
  factors: readonly number[],
): number {
  const { band, m, w, corner } = inverse;
  const row = new Float64Array(m);
  let variance = 0;
  nodes.forEach((node, a) => {
    const factor = nodeFactors[a]!;
    for (let q = 0; q < m; q++) row[q]! -= factor * w[q * band.n + node]!;
    nodes.forEach((other, b) => (variance += factor * nodeFactors[b]! * readBand(band, node, other)));
  });
  unknowns.forEach((q, k) => (row[q]! += factors[k]!));
  solveDenseLower(corner, m, row);
  for (const value of row) variance += value * value;
  return variance;
}
