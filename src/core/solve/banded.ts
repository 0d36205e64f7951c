/**
 * Cholesky of a symmetric positive definite band matrix, column by column in one Float64Array: entry (i, j), j <= i <= j + b,
 * at `j * stride + i - j`. Three zeros of padding per column let the inner loops take four columns at a time, which
 * saves three of four passes over the target. Source: Golub & Van Loan, Matrix Computations, 4.3.5 (band Cholesky);
 * selected inverse: Takahashi, Fagan & Chin 1973, in the form of Rue & Martino 2007, eq. 11.
 */

const PADDING = 3;

/** Lower half of a symmetric band matrix of order n with b sub-diagonals; `entries` column-packed, see above. */
export interface BandMatrix {
  readonly n: number;
  readonly bandwidth: number;
  readonly stride: number;
  readonly entries: Float64Array;
}

/**
 * An all-zero band matrix of order n with b sub-diagonals.
 * @example createBand(5, 2).entries.length // 30
 */
export function createBand(n: number, bandwidth: number): BandMatrix {
  const b = Math.min(bandwidth, Math.max(0, n - 1));
  const stride = b + 1 + PADDING;
  return { n, bandwidth: b, stride, entries: new Float64Array(n * stride) };
}

/** Adds `value` to entry (i, j) of the band and so also to (j, i); both inside the band. */
export function addToBand(matrix: BandMatrix, i: number, j: number, value: number): void {
  const row = Math.max(i, j);
  const column = Math.min(i, j);
  if (row - column > matrix.bandwidth)
    throw new Error(`band entry (${row}, ${column}) outside bandwidth ${matrix.bandwidth}`);
  matrix.entries[column * matrix.stride + row - column]! += value;
}

/** Entry (i, j) of the band. */
export function readBand(matrix: BandMatrix, i: number, j: number): number {
  const column = Math.min(i, j);
  const steps = Math.max(i, j) - column;
  if (steps > matrix.bandwidth)
    throw new Error(`band entry ${steps} off the diagonal, bandwidth ${matrix.bandwidth}`);
  return matrix.entries[column * matrix.stride + steps]!;
}

/** Columns that are taken together. */
export const PANEL = 4;

/**
 * Cholesky factor L (A = L L^T) of a band matrix, written over its entries; returns the same object as the factor.
 * A matrix that is not positive definite is a bug of the caller: plain Error.
 */
export function factorBand(matrix: BandMatrix): BandMatrix {
  for (let j = 0; j < matrix.n; j += PANEL) factorPanel(matrix, j);
  return matrix;
}

/** Factors the panel of columns at j of a band factored up to there, and takes its share off the columns behind it. */
export function factorPanel(matrix: BandMatrix, j: number): void {
  const { n, bandwidth: b, stride, entries: a } = matrix;
  const width = Math.min(PANEL, n - j);
  factorColumns(matrix, j, width);
  if (width < PANEL) return;
  const last = Math.min(n - 1, j + 3 + b);
  // L(r, j + q) is at oq + r
  const o0 = j * stride - j;
  const o1 = o0 + stride - 1;
  const o2 = o1 + stride - 1;
  const o3 = o2 + stride - 1;
  for (let c = j + 4; c <= last; c += 2) {
    const l0 = a[o0 + c]!;
    const l1 = a[o1 + c]!;
    const l2 = a[o2 + c]!;
    const l3 = a[o3 + c]!;
    const target = c * stride - c;
    a[target + c]! -= l0 * l0 + l1 * l1 + l2 * l2 + l3 * l3;
    if (c === last) break;
    const k0 = a[o0 + c + 1]!;
    const k1 = a[o1 + c + 1]!;
    const k2 = a[o2 + c + 1]!;
    const k3 = a[o3 + c + 1]!;
    const next = target + stride - 1;
    for (let r = c + 1; r <= last; r++) {
      const a0 = a[o0 + r]!;
      const a1 = a[o1 + r]!;
      const a2 = a[o2 + r]!;
      const a3 = a[o3 + r]!;
      a[target + r]! -= l0 * a0 + l1 * a1 + l2 * a2 + l3 * a3;
      a[next + r]! -= k0 * a0 + k1 * a1 + k2 * a2 + k3 * a3;
    }
  }
}

/** Factors the columns j .. j + width - 1 among themselves, all rows of the band below them included. */
function factorColumns(matrix: BandMatrix, j: number, width: number): void {
  const { n, bandwidth: b, stride, entries: a } = matrix;
  for (let c = j; c < j + width; c++) {
    const own = c * stride - c;
    for (let p = j; p < c; p++) {
      const source = p * stride - p;
      if (c - p > b) continue;
      const l = a[source + c]!;
      const last = Math.min(n - 1, p + b);
      for (let r = c; r <= last; r++) a[own + r]! -= l * a[source + r]!;
    }
    const pivot = a[own + c]!;
    if (!(pivot > 0)) throw new Error(`band matrix not positive definite: pivot ${c} is ${pivot}`);
    const root = Math.sqrt(pivot);
    a[own + c] = root;
    const last = Math.min(n - 1, c + b);
    for (let r = c + 1; r <= last; r++) a[own + r]! /= root;
  }
}

/** Solves L y = x in place for the n values of x. */
export function solveLower(factor: BandMatrix, x: Float64Array): void {
  for (let j = 0; j < factor.n; j += PANEL) {
    solvePanel(factor, x, 0, j);
    carryPanel(factor, x, 0, j);
  }
}

/** Solves L^T y = x in place for the n values of x. */
export function solveUpper(factor: BandMatrix, x: Float64Array): void {
  for (let j = Math.floor((factor.n - 1) / PANEL) * PANEL; j >= 0; j -= PANEL) solvePanelUpper(factor, x, j);
}

/** The panel at j of L y = x among itself, in place; x(0) is at `from`. */
export function solvePanel(factor: BandMatrix, x: Float64Array, from: number, j: number): void {
  const { n, stride, entries: a } = factor;
  const at = from + j;
  if (j + PANEL > n) {
    for (let c = 0; j + c < n; c++) {
      let sum = x[at + c]!;
      for (let p = 0; p < c; p++) sum -= below(factor, j + p, c - p) * x[at + p]!;
      x[at + c] = sum / a[(j + c) * stride]!;
    }
    return;
  }
  const x0 = x[at]! / a[j * stride]!;
  const x1 = (x[at + 1]! - below(factor, j, 1) * x0) / a[(j + 1) * stride]!;
  const x2 = (x[at + 2]! - below(factor, j, 2) * x0 - below(factor, j + 1, 1) * x1) / a[(j + 2) * stride]!;
  const head = below(factor, j, 3) * x0 + below(factor, j + 1, 2) * x1 + below(factor, j + 2, 1) * x2;
  x[at] = x0;
  x[at + 1] = x1;
  x[at + 2] = x2;
  x[at + 3] = (x[at + 3]! - head) / a[(j + 3) * stride]!;
}

/** Takes the panel at j, solved, off the values of x behind it: x(r) -= L(r, c) x(c). */
export function carryPanel(factor: BandMatrix, x: Float64Array, from: number, j: number): void {
  const { n, bandwidth: b, stride, entries: a } = factor;
  if (j + PANEL > n) return;
  const o0 = j * stride - j;
  const o1 = o0 + stride - 1;
  const o2 = o1 + stride - 1;
  const o3 = o2 + stride - 1;
  const at = from + j;
  const x0 = x[at]!;
  const x1 = x[at + 1]!;
  const x2 = x[at + 2]!;
  const x3 = x[at + 3]!;
  const last = Math.min(n - 1, j + 3 + b);
  for (let r = j + 4; r <= last; r++)
    x[from + r]! -= a[o0 + r]! * x0 + a[o1 + r]! * x1 + a[o2 + r]! * x2 + a[o3 + r]! * x3;
}

function below(factor: BandMatrix, column: number, steps: number): number {
  return steps > factor.bandwidth ? 0 : factor.entries[column * factor.stride + steps]!;
}

/** The panel at j of L^T y = x in place, all values behind it solved. */
export function solvePanelUpper(factor: BandMatrix, x: Float64Array, j: number): void {
  const { n, bandwidth: b, stride, entries: a } = factor;
  if (j + PANEL > n) {
    for (let c = n - 1; c >= j; c--) {
      let sum = x[c]!;
      for (let r = c + 1; r < n; r++) sum -= below(factor, c, r - c) * x[r]!;
      x[c] = sum / a[c * stride]!;
    }
    return;
  }
  const o0 = j * stride - j;
  const o1 = o0 + stride - 1;
  const o2 = o1 + stride - 1;
  const o3 = o2 + stride - 1;
  let s0 = x[j]!;
  let s1 = x[j + 1]!;
  let s2 = x[j + 2]!;
  let s3 = x[j + 3]!;
  const last = Math.min(n - 1, j + 3 + b);
  for (let r = j + 4; r <= last; r++) {
    const xr = x[r]!;
    s0 -= a[o0 + r]! * xr;
    s1 -= a[o1 + r]! * xr;
    s2 -= a[o2 + r]! * xr;
    s3 -= a[o3 + r]! * xr;
  }
  const x3 = s3 / a[o3 + j + 3]!;
  const x2 = (s2 - below(factor, j + 2, 1) * x3) / a[o2 + j + 2]!;
  const x1 = (s1 - below(factor, j + 1, 1) * x2 - below(factor, j + 1, 2) * x3) / a[o1 + j + 1]!;
  const tail = below(factor, j, 1) * x1 + below(factor, j, 2) * x2 + below(factor, j, 3) * x3;
  x[j] = (s0 - tail) / a[o0 + j]!;
  x[j + 1] = x1;
  x[j + 2] = x2;
  x[j + 3] = x3;
}

/**
 * Entries of the inverse of A = L L^T inside the band, in the same packing, by the Takahashi recursion from the last
 * column to the first: Z_ij = [i = j] / L_jj^2 - sum_{k > j} L_kj Z_ki / L_jj.
 */
export function invertBand(factor: BandMatrix): BandMatrix {
  const { n, bandwidth: b, stride, entries: a } = factor;
  const inverse = createBand(n, b);
  const z = inverse.entries;
  const l = new Float64Array(b + 1);
  const y = new Float64Array(b + 1);
  for (let j = n - 1; j >= 0; j--) {
    const size = Math.min(b, n - 1 - j);
    const own = j * stride;
    const pivot = a[own]!;
    for (let k = 1; k <= size; k++) {
      l[k] = a[own + k]! / pivot;
      y[k] = 0;
    }
    multiplyBlock(z, stride, j, size, l, y);
    let diagonal = 1 / (pivot * pivot);
    for (let k = 1; k <= size; k++) {
      z[own + k] = -y[k]!;
      diagonal += l[k]! * y[k]!;
    }
    z[own] = diagonal;
  }
  return inverse;
}

/** y += Z l for the symmetric block of rows and columns j + 1 .. j + size of Z, four columns at a time. */
export function multiplyBlock(
  z: Float64Array,
  stride: number,
  j: number,
  size: number,
  l: Float64Array,
  y: Float64Array,
): void {
  let k = 1;
  for (; k + 3 <= size; k += 4) {
    const l0 = l[k]!;
    const l1 = l[k + 1]!;
    const l2 = l[k + 2]!;
    const l3 = l[k + 3]!;
    // Z(j + i, j + k + q) is at oq + i
    const o0 = (j + k) * stride - k;
    const o1 = o0 + stride - 1;
    const o2 = o1 + stride - 1;
    const o3 = o2 + stride - 1;
    const z10 = z[o0 + k + 1]!;
    const z20 = z[o0 + k + 2]!;
    const z30 = z[o0 + k + 3]!;
    const z21 = z[o1 + k + 2]!;
    const z31 = z[o1 + k + 3]!;
    const z32 = z[o2 + k + 3]!;
    let s0 = z[o0 + k]! * l0 + z10 * l1 + z20 * l2 + z30 * l3;
    let s1 = z10 * l0 + z[o1 + k + 1]! * l1 + z21 * l2 + z31 * l3;
    let s2 = z20 * l0 + z21 * l1 + z[o2 + k + 2]! * l2 + z32 * l3;
    let s3 = z30 * l0 + z31 * l1 + z32 * l2 + z[o3 + k + 3]! * l3;
    for (let i = k + 4; i <= size; i++) {
      const z0 = z[o0 + i]!;
      const z1 = z[o1 + i]!;
      const z2 = z[o2 + i]!;
      const z3 = z[o3 + i]!;
      const li = l[i]!;
      s0 += z0 * li;
      s1 += z1 * li;
      s2 += z2 * li;
      s3 += z3 * li;
      y[i]! += z0 * l0 + z1 * l1 + z2 * l2 + z3 * l3;
    }
    y[k]! += s0;
    y[k + 1]! += s1;
    y[k + 2]! += s2;
    y[k + 3]! += s3;
  }
  for (; k <= size; k++) {
    const own = (j + k) * stride - k;
    const lk = l[k]!;
    let sum = z[own + k]! * lk;
    for (let i = k + 1; i <= size; i++) {
      const zi = z[own + i]!;
      sum += zi * l[i]!;
      y[i]! += zi * lk;
    }
    y[k]! += sum;
  }
}
