import { createBand, multiplyBlock, PANEL, readBand, type BandMatrix } from './banded.ts';
import type { BorderedFactor } from './bordered.ts';
import { meet, type Reach, type Span } from './reach.ts';
import { combine, project, type Update } from './update.ts';

/**
 * The entries of the inverse of a bordered matrix where its factor has entries, in the same places: all covariances among nodes within one
 * bandwidth, unknowns at the nodes that they reach, and unknowns that are open together.
 */
export interface BorderedInverse {
  readonly band: BandMatrix;
  readonly m: number;
  readonly reach: Reach;
  readonly border: Float64Array;
  readonly corner: Float64Array;
  /** By which the entries are still to be changed, null = none. */
  readonly update: Update | null;
}

const made = new WeakMap<BorderedFactor, BorderedInverse>();

/**
 * The selected inverse of a factor, from the last elimination to the first; reckoned once for each factor. Cost per node b^2 + 2 a b + a^2
 * multiply-adds, b the bandwidth and a the unknowns open there.
 * Source: Takahashi, Fagan & Chin 1973, in the form of Rue & Martino 2007, eq. 11.
 */
export function invertBordered(factor: BorderedFactor): BorderedInverse {
  if (factor.update) return { ...invertBordered(factor.update.of), update: factor.update };
  const known = made.get(factor);
  if (known) return known;
  const { band, m, reach } = factor;
  const inverse: BorderedInverse = {
    band: createBand(band.n, band.bandwidth),
    m,
    reach,
    border: new Float64Array(reach.size),
    corner: new Float64Array(m * m),
    update: null,
  };
  const recursion = {
    factor,
    inverse,
    l: new Float64Array(band.bandwidth + 1),
    y: new Float64Array(band.bandwidth + 1),
    lOpen: new Float64Array(m),
    yOpen: new Float64Array(m),
  };
  for (let at = reach.spans.length - 1; at >= 0; at--) {
    const span = reach.spans[at]!;
    for (let j = span.to - 1; j >= span.from; j--) invertNode(recursion, span, j);
    for (let c = span.closing.length - 1; c >= 0; c--) invertUnknown(recursion, span, c);
  }
  made.set(factor, inverse);
  return inverse;
}

/** Factor, inverse so far, and the column at hand of L and of what Z makes of it: among nodes (from 1) and open unknowns. */
interface Recursion {
  readonly factor: BorderedFactor;
  readonly inverse: BorderedInverse;
  readonly l: Float64Array;
  readonly y: Float64Array;
  readonly lOpen: Float64Array;
  readonly yOpen: Float64Array;
}

/** The column of node j: y = Z l over the nodes behind it and the open unknowns, then -y and the diagonal. */
function invertNode({ factor, inverse, l, y, lOpen, yOpen }: Recursion, { open }: Span, j: number): void {
  const { n, bandwidth, stride, entries } = factor.band;
  const z = inverse.band.entries;
  const size = Math.min(bandwidth, n - 1 - j);
  const own = j * stride;
  const pivot = entries[own]!;
  for (let k = 1; k <= size; k++) {
    l[k] = entries[own + k]! / pivot;
    y[k] = 0;
  }
  const { start } = factor.reach;
  for (let a = 0; a < open.length; a++) {
    lOpen[a] = factor.border[start[open[a]!]! + j]! / pivot;
    yOpen[a] = 0;
  }
  multiplyBlock(z, stride, j, size, l, y);
  multiplyRows(inverse, open, j, size, l, y, lOpen, yOpen);
  multiplyCorner(inverse, open, lOpen, yOpen);
  let diagonal = 1 / (pivot * pivot);
  for (let k = 1; k <= size; k++) {
    z[own + k] = -y[k]!;
    diagonal += l[k]! * y[k]!;
  }
  for (let a = 0; a < open.length; a++) {
    inverse.border[start[open[a]!]! + j] = -yOpen[a]!;
    diagonal += lOpen[a]! * yOpen[a]!;
  }
  z[own] = diagonal;
}

/** The column of the unknown `closing[at]` of a span, as `invertNode`. */
function invertUnknown(recursion: Recursion, span: Span, at: number): void {
  const { factor, inverse, l, y, lOpen, yOpen } = recursion;
  const { m, reach } = factor;
  const k = span.closing[at]!;
  const before = span.from - 1;
  const size = Math.max(0, reach.stop[k]! - span.from);
  const others = Int32Array.from([...span.closing.subarray(at + 1), ...span.open]);
  const own = reach.start[k]!;
  const pivot = factor.corner[k * m + k]!;
  for (let i = 1; i <= size; i++) {
    l[i] = factor.border[own + before + i]! / pivot;
    y[i] = 0;
  }
  others.forEach((p, a) => {
    lOpen[a] = factor.corner[p * m + k]! / pivot;
    yOpen[a] = 0;
  });
  multiplyBlock(inverse.band.entries, inverse.band.stride, before, size, l, y);
  multiplyRows(inverse, others, before, size, l, y, lOpen, yOpen);
  multiplyCorner(inverse, others, lOpen, yOpen);
  let diagonal = 1 / (pivot * pivot);
  for (let i = 1; i <= size; i++) {
    inverse.border[own + before + i] = -y[i]!;
    diagonal += l[i]! * y[i]!;
  }
  others.forEach((p, a) => {
    inverse.corner[p * m + k] = -yOpen[a]!;
    diagonal += lOpen[a]! * yOpen[a]!;
  });
  inverse.corner[k * m + k] = diagonal;
}

/** Rows of the open unknowns over nodes j + 1 .. j + size: y += Z' lOpen, yOpen += Z l; four rows at a time. */
function multiplyRows(
  { border, reach: { start } }: BorderedInverse,
  open: Int32Array,
  j: number,
  size: number,
  l: Float64Array,
  y: Float64Array,
  lOpen: Float64Array,
  yOpen: Float64Array,
): void {
  let a = 0;
  for (; a + PANEL <= open.length; a += PANEL) {
    const o0 = start[open[a]!]! + j;
    const o1 = start[open[a + 1]!]! + j;
    const o2 = start[open[a + 2]!]! + j;
    const o3 = start[open[a + 3]!]! + j;
    const l0 = lOpen[a]!;
    const l1 = lOpen[a + 1]!;
    const l2 = lOpen[a + 2]!;
    const l3 = lOpen[a + 3]!;
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    let s3 = 0;
    for (let i = 1; i <= size; i++) {
      const z0 = border[o0 + i]!;
      const z1 = border[o1 + i]!;
      const z2 = border[o2 + i]!;
      const z3 = border[o3 + i]!;
      const li = l[i]!;
      s0 += z0 * li;
      s1 += z1 * li;
      s2 += z2 * li;
      s3 += z3 * li;
      y[i]! += z0 * l0 + z1 * l1 + z2 * l2 + z3 * l3;
    }
    yOpen[a]! += s0;
    yOpen[a + 1]! += s1;
    yOpen[a + 2]! += s2;
    yOpen[a + 3]! += s3;
  }
  for (; a < open.length; a++) {
    const row = start[open[a]!]! + j;
    const own = lOpen[a]!;
    let sum = 0;
    for (let i = 1; i <= size; i++) {
      const zi = border[row + i]!;
      sum += zi * l[i]!;
      y[i]! += zi * own;
    }
    yOpen[a]! += sum;
  }
}

/** yOpen += Z lOpen among the open unknowns. */
function multiplyCorner(
  { corner, m }: BorderedInverse,
  open: Int32Array,
  lOpen: Float64Array,
  yOpen: Float64Array,
): void {
  for (let a = 0; a < open.length; a++) {
    const row = open[a]! * m;
    const own = lOpen[a]!;
    let sum = corner[row + open[a]!]! * own;
    for (let b = 0; b < a; b++) {
      const value = corner[row + open[b]!]!;
      sum += value * lOpen[b]!;
      yOpen[b]! += value * own;
    }
    yOpen[a]! += sum;
  }
}

function readCorner({ m, reach, corner }: BorderedInverse, q: number, p: number): number {
  const a = reach.rank[q]!;
  const b = reach.rank[p]!;
  if (!meet(reach, a, b)) throw new Error(`expected unknowns that meet, got ${q} and ${p}`);
  return corner[Math.max(a, b) * m + Math.min(a, b)]!;
}

function readBorder({ reach, border }: BorderedInverse, q: number, node: number): number {
  const k = reach.rank[q]!;
  if (node < reach.first[k]! || node >= reach.stop[k]!)
    throw new Error(`expected a node that unknown ${q} reaches, got ${node}`);
  return border[reach.start[k]! + node]!;
}

/** Covariance of two unknowns that occur together in an observation, or are open together for another reason. */
export function readCovariance(inverse: BorderedInverse, q: number, p: number): number {
  const { update } = inverse;
  return (
    readCorner(inverse, q, p) -
    (update ? combine(update, project(update, [], [], [q], [1]), project(update, [], [], [p], [1])) : 0)
  );
}

/** Covariance of an unknown and a node that it reaches. */
export function readAcross(inverse: BorderedInverse, q: number, node: number): number {
  const { update } = inverse;
  return (
    readBorder(inverse, q, node) -
    (update ? combine(update, project(update, [node], [1], [], []), project(update, [], [], [q], [1])) : 0)
  );
}

/**
 * Variance of a linear combination sum nodeFactors x + sum factors y of band unknowns x (all within one bandwidth) and border
 * unknowns y, as they occur together in an observation.
 */
export function findVariance(
  inverse: BorderedInverse,
  nodes: readonly number[],
  nodeFactors: readonly number[],
  unknowns: readonly number[],
  factors: readonly number[],
): number {
  let variance = 0;
  for (let a = 0; a < nodes.length; a++) {
    const node = nodes[a]!;
    let row = 0.5 * nodeFactors[a]! * readBand(inverse.band, node, node);
    for (let b = 0; b < a; b++) row += nodeFactors[b]! * readBand(inverse.band, node, nodes[b]!);
    for (let b = 0; b < unknowns.length; b++) row += factors[b]! * readBorder(inverse, unknowns[b]!, node);
    variance += 2 * nodeFactors[a]! * row;
  }
  return (
    variance + sumSpread(inverse, unknowns, factors) - takeOff(inverse, nodes, nodeFactors, unknowns, factors)
  );
}

/** Variance of a linear combination of border unknowns that occur together in an observation. */
export function findSpread(
  inverse: BorderedInverse,
  unknowns: readonly number[],
  factors: readonly number[],
): number {
  return sumSpread(inverse, unknowns, factors) - takeOff(inverse, [], [], unknowns, factors);
}

/** What the changes since take off the variance of a combination. */
function takeOff(
  { update }: BorderedInverse,
  nodes: readonly number[],
  nodeFactors: readonly number[],
  unknowns: readonly number[],
  factors: readonly number[],
): number {
  if (!update) return 0;
  const share = project(update, nodes, nodeFactors, unknowns, factors);
  return combine(update, share, share);
}

function sumSpread(
  inverse: BorderedInverse,
  unknowns: readonly number[],
  factors: readonly number[],
): number {
  let variance = 0;
  for (let a = 0; a < unknowns.length; a++) {
    let row = 0.5 * factors[a]! * readCorner(inverse, unknowns[a]!, unknowns[a]!);
    for (let b = 0; b < a; b++) row += factors[b]! * readCorner(inverse, unknowns[a]!, unknowns[b]!);
    variance += 2 * factors[a]! * row;
  }
  return variance;
}
