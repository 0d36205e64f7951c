import { PANEL } from './banded.ts';

/**
 * Which nodes of a band each of the other unknowns has to do with, and so when it is eliminated: right before the first panel of nodes
 * that lies behind all it touches. Its fill then stays within one bandwidth of nodes and the unknowns still open, so that the
 * work at any node grows with the unknowns open there, not with all of them: a border that moves along the band.
 * Source: George & Liu 1981, Computer Solution of Large Sparse Positive Definite Systems, 4.1 (envelope of a Cholesky factor).
 */

/** Nodes `from` to `to` - 1, at all of which the same unknowns are open; those of `closing` are eliminated before them. Both by rank, rising. */
export interface Span {
  readonly from: number;
  readonly to: number;
  readonly closing: Int32Array;
  readonly open: Int32Array;
}

/** The unknowns beside a band by rank, their place in the order of elimination: m of them, arrays of m. */
export interface Reach {
  /** Rank of each unknown. */
  readonly rank: Int32Array;
  /** By rank: the first node of its row, the node before which it is eliminated, the end (exclusive) of its row. */
  readonly first: Int32Array;
  readonly end: Int32Array;
  readonly stop: Int32Array;
  /** By rank: where its row lies in storage, less its first node. */
  readonly start: Int32Array;
  /** Storage of all rows. */
  readonly size: number;
  readonly spans: readonly Span[];
}

/** What an observation touches: nodes and unknowns. */
export interface Touched {
  readonly nodes: readonly number[];
  readonly unknowns: readonly number[];
}

/** Reach of m unknowns beside a band of n nodes that all have to do with all nodes: an ordinary dense border. */
export function reachAll(n: number, m: number): Reach {
  return orderReach(n, n, new Int32Array(m), new Int32Array(m).fill(n));
}

/**
 * Reach of m unknowns beside a band of n nodes from what the rows of the normal equations touch; the unknowns `everywhere` reach all nodes.
 */
export function findReach(
  n: number,
  bandwidth: number,
  m: number,
  rows: readonly Touched[],
  everywhere: readonly number[],
): Reach {
  const first = new Int32Array(m).fill(n);
  const end = new Int32Array(m);
  for (const { nodes, unknowns } of rows)
    if (nodes.length > 0) {
      const from = Math.min(...nodes);
      const to = Math.max(...nodes) + 1;
      for (const q of unknowns) {
        if (from < first[q]!) first[q] = from;
        if (to > end[q]!) end[q] = to;
      }
    }
  for (let q = 0; q < m; q++) {
    if (everywhere.includes(q)) first[q] = 0;
    if (everywhere.includes(q) || end[q] === 0) end[q] = n;
    first[q]! -= first[q]! % PANEL;
    end[q] = Math.min(n, Math.ceil(end[q]! / PANEL) * PANEL);
  }
  // two unknowns of one row must be open together, or the one's elimination has nowhere to put its fill
  for (const { unknowns } of rows) {
    let close = n;
    for (const q of unknowns) close = Math.min(close, end[q]!);
    for (const q of unknowns) first[q] = Math.min(first[q]!, close);
  }
  return orderReach(n, bandwidth, first, end);
}

function orderReach(n: number, bandwidth: number, firstOf: Int32Array, endOf: Int32Array): Reach {
  const m = firstOf.length;
  const order = Array.from({ length: m }, (_, q) => q).sort((a, b) => endOf[a]! - endOf[b]! || a - b);
  const rank = new Int32Array(m);
  order.forEach((q, k) => (rank[q] = k));
  const first = Int32Array.from(order, (q) => firstOf[q]!);
  const end = Int32Array.from(order, (q) => endOf[q]!);
  const stop = end.map((node) => Math.min(n, node + bandwidth));
  const start = new Int32Array(m);
  let size = 0;
  for (let k = 0; k < m; k++) {
    start[k] = size - first[k]!;
    size += Math.max(0, stop[k]! - first[k]!);
  }
  return { rank, first, end, stop, start, size, spans: listSpans(n, first, end) };
}

function listSpans(n: number, first: Int32Array, end: Int32Array): Span[] {
  const breaks = [...new Set([0, ...first, ...end, n])].sort((a, b) => a - b);
  const ranks = Array.from(first.keys());
  return breaks.map((from, at) => ({
    from,
    to: breaks[at + 1] ?? n,
    closing: Int32Array.from(ranks.filter((k) => end[k] === from)),
    open: Int32Array.from(ranks.filter((k) => first[k]! <= from && end[k]! > from)),
  }));
}

/** Whether the covariance of two unknowns (by rank) is held: both are open when the first of them is eliminated. */
export function meet({ first, end }: Reach, a: number, b: number): boolean {
  return first[Math.max(a, b)]! <= end[Math.min(a, b)]!;
}
