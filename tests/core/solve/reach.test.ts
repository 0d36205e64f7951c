import fc from 'fast-check';
import { expect, test } from 'vitest';
import { addToBand, createBand } from '../../../src/core/solve/banded.ts';
import {
  addToBorder,
  addToCorner,
  createBordered,
  factorBordered,
  solveBordered,
} from '../../../src/core/solve/bordered.ts';
import {
  findVariance,
  invertBordered,
  readAcross,
  readCovariance,
} from '../../../src/core/solve/borderedInverse.ts';
import { findReach, meet, reachAll } from '../../../src/core/solve/reach.ts';
import { seedRandom } from '../../truth/random.ts';
import { invertGauss } from './gauss.ts';

interface Row {
  readonly nodes: readonly number[];
  readonly nodeFactors: readonly number[];
  readonly unknowns: readonly number[];
  readonly factors: readonly number[];
}

/** Rows as photographs give them: each tells of nodes within one bandwidth, of some unknowns of one group, and of the first unknown. */
function makeRows(seed: number, n: number, bandwidth: number, groups: number): { rows: Row[]; m: number } {
  const random = seedRandom(seed);
  const pick = (below: number) => Math.min(below - 1, Math.floor(random.between(0, below)));
  const rows: Row[] = [];
  const m = 1 + 2 * groups;
  for (let q = 0; q < m; q++) rows.push({ nodes: [], nodeFactors: [], unknowns: [q], factors: [2] });
  for (let group = 0; group < groups; group++) {
    const from = pick(n);
    const length = 1 + pick(n - from);
    const own = [1 + 2 * group, 2 + 2 * group];
    // a pair of unknowns may be told together by a row that says nothing of the nodes
    if (pick(3) === 0) rows.push({ nodes: [], nodeFactors: [], unknowns: own, factors: [1, -0.5] });
    for (let k = pick(5); k >= 0; k--) {
      const node = from + pick(length);
      const nodes = [node, Math.min(n - 1, node + pick(bandwidth + 1))];
      const unknowns = [0, ...own.filter(() => pick(4) > 0)];
      rows.push({
        nodes: nodes[0] === nodes[1] ? [node] : nodes,
        nodeFactors: nodes[0] === nodes[1] ? [1.3] : [0.6, random.normal()],
        unknowns,
        factors: unknowns.map(() => random.normal()),
      });
    }
  }
  return { rows, m };
}

const shapes = fc.record({
  seed: fc.integer({ min: 1, max: 1e6 }),
  n: fc.integer({ min: 1, max: 40 }),
  bandwidth: fc.integer({ min: 0, max: 9 }),
  groups: fc.integer({ min: 0, max: 6 }),
});

test('unknowns that reach a part of the band are solved and inverted as in the dense matrix', () => {
  let short = 0;
  fc.assert(
    fc.property(shapes, ({ seed, n, bandwidth, groups }) => {
      const width = Math.min(bandwidth, n - 1);
      const { rows, m } = makeRows(seed, n, width, groups);
      const reach = findReach(n, width, m, rows, [0]);
      short += Number(reach.size < n * m);
      const matrix = createBordered(createBand(n, width), m, reach);
      const dense = Array.from({ length: n + m }, () => new Array<number>(n + m).fill(0));
      for (let i = 0; i < n; i++)
        for (let j = Math.max(0, i - width); j <= i; j++) {
          const value = i === j ? 2 * width + 3 : Math.sin(i * 7 + j);
          addToBand(matrix.band, i, j, value);
          dense[i]![j] = dense[j]![i] = value;
        }
      for (const { nodes, nodeFactors, unknowns, factors } of rows) {
        const at = [...nodes, ...unknowns.map((q) => n + q)];
        const shares = [...nodeFactors, ...factors];
        at.forEach((i, a) => at.forEach((j, b) => (dense[i]![j]! += shares[a]! * shares[b]!)));
        nodes.forEach((node, a) => {
          for (let b = 0; b <= a; b++)
            addToBand(matrix.band, node, nodes[b]!, nodeFactors[a]! * nodeFactors[b]!);
          unknowns.forEach((q, b) => addToBorder(matrix, q, node, nodeFactors[a]! * factors[b]!));
        });
        unknowns.forEach((q, a) => {
          for (let b = 0; b <= a; b++) addToCorner(matrix, q, unknowns[b]!, factors[a]! * factors[b]!);
        });
      }
      const inverse = invertGauss(dense);
      const factor = factorBordered(matrix);
      const random = seedRandom(seed + 1);
      const right = dense.map(() => random.normal());
      const x = Float64Array.from(right.slice(0, n));
      const y = Float64Array.from(right.slice(n));
      solveBordered(factor, x, y);
      [...x, ...y].forEach((value, i) =>
        expect(value).toBeCloseTo(
          inverse[i]!.reduce((sum, each, j) => sum + each * right[j]!, 0),
          9,
        ),
      );
      const inverted = invertBordered(factor);
      for (let i = 0; i < n; i++) {
        expect(findVariance(inverted, [i], [1], [], [])).toBeCloseTo(inverse[i]![i]!, 9);
        expect(readAcross(inverted, 0, i)).toBeCloseTo(inverse[n]![i]!, 9);
      }
      for (let q = 0; q < m; q++)
        for (let p = 0; p < m; p++)
          if (meet(reach, reach.rank[q]!, reach.rank[p]!))
            expect(readCovariance(inverted, q, p)).toBeCloseTo(inverse[n + q]![n + p]!, 9);
          else expect(() => readCovariance(inverted, q, p)).toThrow();
      for (const { nodes, nodeFactors, unknowns, factors } of rows) {
        const at = [...nodes, ...unknowns.map((q) => n + q)];
        const shares = [...nodeFactors, ...factors];
        let wanted = 0;
        at.forEach((i, a) => at.forEach((j, b) => (wanted += shares[a]! * shares[b]! * inverse[i]![j]!)));
        expect(findVariance(inverted, nodes, nodeFactors, unknowns, factors)).toBeCloseTo(wanted, 8);
      }
    }),
    { seed: 3, numRuns: 100 },
  );
  expect(short).toBeGreaterThan(50);
});

test('an unknown that reaches few nodes has a short row and is eliminated behind them', () => {
  const rows = [
    { nodes: [0, 1], unknowns: [0, 1] },
    { nodes: [22, 23], unknowns: [1] },
    { nodes: [9, 10], unknowns: [2] },
  ];
  const reach = findReach(100, 5, 3, rows, [0]);
  expect([...reach.rank]).toEqual([2, 1, 0]);
  expect([...reach.first]).toEqual([8, 0, 0]);
  expect([...reach.end]).toEqual([12, 24, 100]);
  expect(reach.size).toBe(9 + 29 + 100);
  expect(() => reachAll(4, 1).spans).not.toThrow();
});

test('a node beyond the reach of an unknown is not read', () => {
  const reach = findReach(40, 2, 1, [{ nodes: [3], unknowns: [0] }], []);
  const matrix = createBordered(createBand(40, 2), 1, reach);
  for (let i = 0; i < 40; i++) addToBand(matrix.band, i, i, 1);
  addToCorner(matrix, 0, 0, 1);
  const inverse = invertBordered(factorBordered(matrix));
  expect(readAcross(inverse, 0, 3)).toBeCloseTo(0, 12);
  expect(() => readAcross(inverse, 0, 30)).toThrow();
});

test('an inverse is reckoned once for each factor', () => {
  const matrix = createBordered(createBand(4, 1), 0);
  for (let i = 0; i < 4; i++) addToBand(matrix.band, i, i, 1);
  const factor = factorBordered(matrix);
  expect(invertBordered(factor)).toBe(invertBordered(factor));
});
