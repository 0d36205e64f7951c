/** Small dense symmetric matrices, row-major n x n in a Float64Array. */

/**
 * Lower Cholesky factor L of a symmetric positive definite matrix, a = L L^T; null where it is not positive definite
 * (pivot at most `tolerance` times the diagonal element it came from).
 * Source: Golub and Van Loan, Matrix Computations, 4th ed., algorithm 4.2.1 (from memory).
 * @example factorCholesky(Float64Array.of(4, 2, 2, 5), 2) // [2, 0, 1, 2]
 */
export function factorCholesky(a: Float64Array, n: number, tolerance = 1e-14): Float64Array | null {
  const l = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    let pivot = a[j * n + j]!;
    for (let k = 0; k < j; k++) pivot -= l[j * n + k]! ** 2;
    if (!(pivot > tolerance * a[j * n + j]!)) return null;
    const root = Math.sqrt(pivot);
    l[j * n + j] = root;
    for (let i = j + 1; i < n; i++) {
      let sum = a[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= l[i * n + k]! * l[j * n + k]!;
      l[i * n + j] = sum / root;
    }
  }
  return l;
}

/**
 * Solution x of L L^T x = b for a factor from `factorCholesky`.
 * @example solveCholesky(Float64Array.of(2, 0, 1, 2), 2, Float64Array.of(8, 8)) // [1.5, 1]
 */
export function solveCholesky(l: Float64Array, n: number, b: Float64Array): Float64Array {
  const x = Float64Array.from(b);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i]! -= l[i * n + k]! * x[k]!;
    x[i]! /= l[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i]! -= l[k * n + i]! * x[k]!;
    x[i]! /= l[i * n + i]!;
  }
  return x;
}

/**
 * Inverse of a symmetric positive definite matrix, factored after scaling its diagonal to 1 so that unlike units do not
 * spoil the test; null where the matrix is singular.
 * @example invertSymmetric(Float64Array.of(4, 0, 0, 5), 2) // [0.25, 0, 0, 0.2]
 */
export function invertSymmetric(a: Float64Array, n: number, tolerance = 1e-14): Float64Array | null {
  const scale = Float64Array.from({ length: n }, (_, i) => 1 / Math.sqrt(a[i * n + i]!));
  if (!scale.every(Number.isFinite)) return null;
  const scaled = a.map((value, at) => value * scale[Math.floor(at / n)]! * scale[at % n]!);
  const l = factorCholesky(scaled, n, tolerance);
  if (!l) return null;
  const inverse = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    const unit = new Float64Array(n);
    unit[j] = scale[j]!;
    const column = solveCholesky(l, n, unit);
    for (let i = 0; i < n; i++) inverse[i * n + j] = column[i]! * scale[i]!;
  }
  return inverse;
}

/**
 * Quadratic form row^T a row, where the row starts at `from` in `rows`.
 * @example evaluateForm(Float64Array.of(2, 1, 1, 3), 2, Float64Array.of(0, 1, 2), 1) // 18
 */
export function evaluateForm(a: Float64Array, n: number, rows: ArrayLike<number>, from = 0): number {
  let sum = 0;
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) sum += rows[from + i]! * a[i * n + j]! * rows[from + j]!;
  return sum;
}
