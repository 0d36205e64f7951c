import { solveBordered, type BorderedFactor } from './bordered.ts';

/** A row of the normal equations: its non-zero factors on nodes and unknowns. */
export interface SparseRow {
  readonly nodes: readonly number[];
  readonly nodeFactors: readonly number[];
  readonly unknowns: readonly number[];
  readonly factors: readonly number[];
}

/** A row with its column of the inverse, H^-1 a: n values at the nodes, m at the unknowns. */
export interface SolvedRow {
  readonly row: SparseRow;
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/**
 * A change of a factored matrix H by k rows a with information d each (negative = taken away), H' = H + A D A'. Its inverse is
 * H^-1 - W M W' with W = H^-1 A and M = (I + D A'W)^-1 D, so that nothing has to be factored anew.
 * Source: Sherman, Morrison & Woodbury; Golub & Van Loan, Matrix Computations, 2.1.4; Hager 1989, SIAM Review 31(2), eq. 2.
 */
export interface Update {
  readonly of: BorderedFactor;
  readonly rows: readonly SolvedRow[];
  /** M, row-major k x k, symmetric. */
  readonly middle: Float64Array;
}

/** Less of its information than this left to a combination of rows: nothing else would hold it. */
const LEAST_LEFT = 1e-9;

/** H^-1 a for a factor. */
export function solveRow(factor: BorderedFactor, row: SparseRow): SolvedRow {
  const x = new Float64Array(factor.band.n);
  const y = new Float64Array(factor.m);
  row.nodes.forEach((node, k) => (x[node]! += row.nodeFactors[k]!));
  row.unknowns.forEach((q, k) => (y[q]! += row.factors[k]!));
  solveBordered(factor, x, y);
  return { row, x, y };
}

/** a'H^-1 b of two rows, the second of them solved. */
export function multiplyRows(row: SparseRow, { x, y }: SolvedRow): number {
  let sum = 0;
  for (let k = 0; k < row.nodes.length; k++) sum += row.nodeFactors[k]! * x[row.nodes[k]!]!;
  for (let k = 0; k < row.unknowns.length; k++) sum += row.factors[k]! * y[row.unknowns[k]!]!;
  return sum;
}

/**
 * The factor of a matrix changed by some rows with the information given for each; null where what is taken away leaves something that
 * nothing else holds. The factor given must be one that was not changed.
 */
export function updateBordered(
  of: BorderedFactor,
  rows: readonly SolvedRow[],
  information: readonly number[],
): BorderedFactor | null {
  const k = rows.length;
  const left = new Float64Array(k * k);
  const middle = new Float64Array(k * k);
  rows.forEach((solved, i) => {
    middle[i * k + i] = information[i]!;
    rows.forEach(({ row }, j) => (left[i * k + j] = information[i]! * multiplyRows(row, solved)));
    left[i * k + i]! += 1;
  });
  if (!eliminate(left, middle, k)) return null;
  return { ...of, update: { of, rows, middle } };
}

/** Solves left X = right in place of `right`, k x k each, with row pivoting; false where left is singular. Golub & Van Loan, 3.4. */
function eliminate(left: Float64Array, right: Float64Array, k: number): boolean {
  for (let c = 0; c < k; c++) {
    let best = c;
    for (let i = c + 1; i < k; i++) if (Math.abs(left[i * k + c]!) > Math.abs(left[best * k + c]!)) best = i;
    const pivot = left[best * k + c]!;
    if (!(Math.abs(pivot) > LEAST_LEFT)) return false;
    for (const matrix of [left, right])
      for (let j = 0; j < k; j++) {
        const value = matrix[best * k + j]!;
        matrix[best * k + j] = matrix[c * k + j]!;
        matrix[c * k + j] = value / pivot;
      }
    for (let i = 0; i < k; i++) {
      const share = left[i * k + c]!;
      if (i === c || share === 0) continue;
      for (const matrix of [left, right])
        for (let j = 0; j < k; j++) matrix[i * k + j]! -= share * matrix[c * k + j]!;
    }
  }
  return true;
}

/** W'a of a combination of nodes and unknowns: k values. */
export function project(
  { rows }: Update,
  nodes: readonly number[],
  nodeFactors: readonly number[],
  unknowns: readonly number[],
  factors: readonly number[],
): Float64Array {
  const row = { nodes, nodeFactors, unknowns, factors };
  const share = new Float64Array(rows.length);
  for (let k = 0; k < share.length; k++) share[k] = multiplyRows(row, rows[k]!);
  return share;
}

/** a'W M W'b of two combinations as projected: what the change takes off their covariance. */
export function combine({ middle }: Update, a: Float64Array, b: Float64Array): number {
  const k = a.length;
  let sum = 0;
  for (let i = 0; i < k; i++) {
    let row = 0;
    for (let j = 0; j < k; j++) row += middle[i * k + j]! * b[j]!;
    sum += a[i]! * row;
  }
  return sum;
}

/** For a right-hand side (x, y): what is still to be taken off its solution with the unchanged factor. */
export function applyUpdate(
  { rows, middle }: Update,
  right: Float64Array,
  rightBelow: Float64Array,
): (x: Float64Array, y: Float64Array) => void {
  const k = rows.length;
  const share = rows.map(({ x, y }) => dot(x, right) + dot(y, rightBelow));
  return (x, y) =>
    rows.forEach((solved, i) => {
      let factor = 0;
      for (let j = 0; j < k; j++) factor += middle[i * k + j]! * share[j]!;
      for (let node = 0; node < x.length; node++) x[node]! -= factor * solved.x[node]!;
      for (let q = 0; q < y.length; q++) y[q]! -= factor * solved.y[q]!;
    });
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
