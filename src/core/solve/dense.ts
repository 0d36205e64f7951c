/** Cholesky of small dense symmetric matrices, row-major m x m in a Float64Array. Source: Golub & Van Loan, 4.2. */

/** Factors A = M M^T in place (lower half; the upper is left as it was) and returns the same array. */
export function factorDense(matrix: Float64Array, m: number): Float64Array {
  for (let i = 0; i < m; i++) {
    for (let j = 0; j <= i; j++) {
      const sum = matrix[i * m + j]! - dotRows(matrix, i * m, j * m, j);
      if (i > j) matrix[i * m + j] = sum / matrix[j * m + j]!;
      else if (sum > 0) matrix[i * m + i] = Math.sqrt(sum);
      else throw new Error(`dense matrix not positive definite: pivot ${i} is ${sum}`);
    }
  }
  return matrix;
}

function dotRows(a: Float64Array, p: number, q: number, count: number): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let k = 0;
  for (; k + 3 < count; k += 4) {
    s0 += a[p + k]! * a[q + k]!;
    s1 += a[p + k + 1]! * a[q + k + 1]!;
    s2 += a[p + k + 2]! * a[q + k + 2]!;
    s3 += a[p + k + 3]! * a[q + k + 3]!;
  }
  for (; k < count; k++) s0 += a[p + k]! * a[q + k]!;
  return s0 + s1 + s2 + s3;
}

/** Solves M y = x in place, M the factor of `factorDense`. */
export function solveDenseLower(factor: Float64Array, m: number, x: Float64Array): void {
  for (let i = 0; i < m; i++) {
    let sum = x[i]!;
    for (let k = 0; k < i; k++) sum -= factor[i * m + k]! * x[k]!;
    x[i] = sum / factor[i * m + i]!;
  }
}

/** Solves M^T y = x in place, M the factor of `factorDense`. */
export function solveDenseUpper(factor: Float64Array, m: number, x: Float64Array): void {
  for (let i = m - 1; i >= 0; i--) {
    const xi = x[i]! / factor[i * m + i]!;
    x[i] = xi;
    for (let k = 0; k < i; k++) x[k]! -= factor[i * m + k]! * xi;
  }
}

/** Natural logarithm of the determinant of A = M M^T. */
export function logDeterminantDense(factor: Float64Array, m: number): number {
  let sum = 0;
  for (let i = 0; i < m; i++) sum += Math.log(factor[i * m + i]!);
  return 2 * sum;
}

/** The full inverse of A = M M^T, row-major. */
export function invertDense(factor: Float64Array, m: number): Float64Array {
  const inverse = new Float64Array(m * m);
  const column = new Float64Array(m);
  for (let j = 0; j < m; j++) {
    column.fill(0);
    column[j] = 1;
    solveDenseLower(factor, m, column);
    solveDenseUpper(factor, m, column);
    for (let i = 0; i < m; i++) inverse[i * m + j] = column[i]!;
  }
  return inverse;
}
