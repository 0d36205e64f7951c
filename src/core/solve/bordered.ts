import { carryPanel, factorPanel, PANEL, solvePanel, solvePanelUpper, type BandMatrix } from './banded.ts';
import { reachAll, type Reach, type Span } from './reach.ts';
import { applyUpdate, type Update } from './update.ts';

/**
 * Symmetric positive definite matrix of a band of n nodes and a border of m other unknowns, each with a row over the nodes that
 * it reaches (`Reach`). `border` holds the rows one after the other, node i of the unknown of rank k at `reach.start[k] + i`; `corner`
 * the lower half, by ranks, row-major m x m.
 */
export interface BorderedMatrix {
  readonly band: BandMatrix;
  readonly m: number;
  readonly reach: Reach;
  readonly border: Float64Array;
  readonly corner: Float64Array;
}

/**
 * The Cholesky factor in the same places: of an unknown's row the nodes before its end are its row of L, those behind it its column;
 * and the rows by which the matrix was changed since, null = none.
 */
export interface BorderedFactor extends BorderedMatrix {
  readonly update: Update | null;
}

/** An all-zero bordered matrix; without a reach every unknown reaches every node. */
export function createBordered(band: BandMatrix, m: number, reach = reachAll(band.n, m)): BorderedMatrix {
  return { band, m, reach, border: new Float64Array(reach.size), corner: new Float64Array(m * m) };
}

/** Adds to the entry of unknown q and a node that it reaches. */
export function addToBorder({ reach, border }: BorderedMatrix, q: number, node: number, value: number): void {
  border[reach.start[reach.rank[q]!]! + node]! += value;
}

/** Adds to entry (q, p) of two unknowns, and so also to (p, q). */
export function addToCorner({ m, reach, corner }: BorderedMatrix, q: number, p: number, value: number): void {
  const a = reach.rank[q]!;
  const b = reach.rank[p]!;
  corner[a > b ? a * m + b : b * m + a]! += value;
}

/**
 * Cholesky factor of a bordered matrix, written over it: panels of four nodes, and between them the unknowns that reach no further. Cost per
 * node b (b / 2 + a) + a^2 / 2 multiply-adds, b the bandwidth and a the unknowns open there.
 * Source: Golub & Van Loan, Matrix Computations, 4.3.5; George & Liu 1981, 4.1.
 */
export function factorBordered(matrix: BorderedMatrix): BorderedFactor {
  for (const span of matrix.reach.spans) {
    for (let at = 0; at < span.closing.length; at++) closeUnknown(matrix, span, at);
    for (let j = span.from; j < span.to; j += PANEL) {
      factorPanel(matrix.band, j);
      reduceRows(matrix, span.open, j);
      reduceCorner(matrix, span.open, j);
    }
  }
  return { ...matrix, update: null };
}

/** Eliminates the unknown `closing[at]` of a span: its fill goes to the nodes behind its end and to the unknowns still open. */
function closeUnknown({ band, m, reach, border, corner }: BorderedMatrix, span: Span, at: number): void {
  const { stride, entries } = band;
  const k = span.closing[at]!;
  const pivot = corner[k * m + k]!;
  if (!(pivot > 0))
    throw new Error(`bordered matrix not positive definite: unknown of rank ${k} is ${pivot}`);
  const root = Math.sqrt(pivot);
  corner[k * m + k] = root;
  const own = reach.start[k]!;
  const stop = reach.stop[k]!;
  for (let i = span.from; i < stop; i++) border[own + i]! /= root;
  for (let c = span.from; c < stop; c++) {
    const lc = border[own + c]!;
    const target = c * stride - c;
    if (lc !== 0) for (let r = c; r < stop; r++) entries[target + r]! -= lc * border[own + r]!;
  }
  const others = [...span.closing.subarray(at + 1), ...span.open];
  for (const p of others) corner[p * m + k]! /= root;
  others.forEach((p, index) => {
    const lp = corner[p * m + k]!;
    if (lp === 0) return;
    const row = reach.start[p]!;
    for (let i = span.from; i < stop; i++) border[row + i]! -= lp * border[own + i]!;
    for (let other = 0; other <= index; other++) {
      const q = others[other]!;
      corner[p * m + q]! -= lp * corner[q * m + k]!;
    }
  });
}

/** The rows of the open unknowns at the panel of nodes j: solved there, their fill carried on; two rows at a time. */
function reduceRows({ band, reach, border }: BorderedMatrix, open: Int32Array, j: number): void {
  const { n, bandwidth, stride, entries: a } = band;
  let at = 0;
  if (j + PANEL <= n) {
    const last = Math.min(n - 1, j + 3 + bandwidth);
    const o0 = j * stride - j;
    const o1 = o0 + stride - 1;
    const o2 = o1 + stride - 1;
    const o3 = o2 + stride - 1;
    for (; at + 1 < open.length; at += 2) {
      const p = reach.start[open[at]!]!;
      const q = reach.start[open[at + 1]!]!;
      solvePanel(band, border, p, j);
      solvePanel(band, border, q, j);
      const p0 = border[p + j]!;
      const p1 = border[p + j + 1]!;
      const p2 = border[p + j + 2]!;
      const p3 = border[p + j + 3]!;
      const q0 = border[q + j]!;
      const q1 = border[q + j + 1]!;
      const q2 = border[q + j + 2]!;
      const q3 = border[q + j + 3]!;
      for (let r = j + 4; r <= last; r++) {
        const a0 = a[o0 + r]!;
        const a1 = a[o1 + r]!;
        const a2 = a[o2 + r]!;
        const a3 = a[o3 + r]!;
        border[p + r]! -= a0 * p0 + a1 * p1 + a2 * p2 + a3 * p3;
        border[q + r]! -= a0 * q0 + a1 * q1 + a2 * q2 + a3 * q3;
      }
    }
  }
  for (; at < open.length; at++) {
    const row = reach.start[open[at]!]!;
    solvePanel(band, border, row, j);
    carryPanel(band, border, row, j);
  }
}

/** What the panel of nodes j takes off the corner of the open unknowns. */
function reduceCorner({ band, m, reach, border, corner }: BorderedMatrix, open: Int32Array, j: number): void {
  const width = Math.min(PANEL, band.n - j);
  for (let at = 0; at < open.length; at++) {
    const row = open[at]! * m;
    const p = reach.start[open[at]!]! + j;
    if (width < PANEL) {
      for (let i = 0; i < width; i++)
        for (let other = 0; other <= at; other++)
          corner[row + open[other]!]! -= border[p + i]! * border[reach.start[open[other]!]! + j + i]!;
      continue;
    }
    const p0 = border[p]!;
    const p1 = border[p + 1]!;
    const p2 = border[p + 2]!;
    const p3 = border[p + 3]!;
    for (let other = 0; other <= at; other++) {
      const q = reach.start[open[other]!]! + j;
      corner[row + open[other]!]! -=
        p0 * border[q]! + p1 * border[q + 1]! + p2 * border[q + 2]! + p3 * border[q + 3]!;
    }
  }
}

/** Solves the bordered system in place: `x` the n band values, `y` the m border values, right-hand sides on entry. */
export function solveBordered(factor: BorderedFactor, x: Float64Array, y: Float64Array): void {
  const { m, reach } = factor;
  const ranked = new Float64Array(m);
  for (let q = 0; q < m; q++) ranked[reach.rank[q]!] = y[q]!;
  const change = factor.update && applyUpdate(factor.update, x, y);
  solveBorderedLower(factor, x, ranked);
  solveBorderedUpper(factor, x, ranked);
  for (let q = 0; q < m; q++) y[q] = ranked[reach.rank[q]!]!;
  change?.(x, y);
}

/** Solves L y = x in place, `y` by ranks. */
function solveBorderedLower(
  { band, m, reach, border, corner }: BorderedFactor,
  x: Float64Array,
  y: Float64Array,
): void {
  for (const { from, to, closing } of reach.spans) {
    for (const k of closing) {
      const row = reach.start[k]!;
      let sum = y[k]!;
      for (let i = reach.first[k]!; i < from; i++) sum -= border[row + i]! * x[i]!;
      const yk = sum / corner[k * m + k]!;
      y[k] = yk;
      for (let i = from; i < reach.stop[k]!; i++) x[i]! -= border[row + i]! * yk;
      for (let p = k + 1; p < m; p++) y[p]! -= corner[p * m + k]! * yk;
    }
    for (let j = from; j < to; j += PANEL) {
      solvePanel(band, x, 0, j);
      carryPanel(band, x, 0, j);
    }
  }
}

/** Solves L^T y = x in place, `y` by ranks. */
function solveBorderedUpper(
  { band, m, reach, border, corner }: BorderedFactor,
  x: Float64Array,
  y: Float64Array,
): void {
  for (let at = reach.spans.length - 1; at >= 0; at--) {
    const { from, to, closing } = reach.spans[at]!;
    for (let j = from + Math.floor((to - from - 1) / PANEL) * PANEL; j >= from; j -= PANEL)
      solvePanelUpper(band, x, j);
    for (let c = closing.length - 1; c >= 0; c--) {
      const k = closing[c]!;
      const row = reach.start[k]!;
      let sum = y[k]!;
      for (let i = from; i < reach.stop[k]!; i++) sum -= border[row + i]! * x[i]!;
      for (let p = k + 1; p < m; p++) sum -= corner[p * m + k]! * y[p]!;
      const yk = sum / corner[k * m + k]!;
      y[k] = yk;
      if (yk !== 0) for (let i = reach.first[k]!; i < from; i++) x[i]! -= border[row + i]! * yk;
    }
  }
}
