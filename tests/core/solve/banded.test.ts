import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  addToBand,
  createBand,
  factorBand,
  invertBand,
  readBand,
  solveLower,
  solveUpper,
} from '../../../src/core/solve/banded.ts';
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
import { seedRandom } from '../../truth/random.ts';
import { invertGauss } from './gauss.ts';

/** A random symmetric positive definite matrix whose first n rows form a band, as rows. */
function makeMatrix(seed: number, n: number, bandwidth: number, m: number): number[][] {
  const random = seedRandom(seed);
  const size = n + m;
  const rows = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  for (let i = 0; i < size; i++)
    for (let j = 0; j < i; j++) if (i >= n || i - j <= bandwidth) rows[i]![j] = rows[j]![i] = random.normal();
  rows.forEach((row, i) => (row[i] = 1 + row.reduce((sum, value) => sum + Math.abs(value), 0)));
  return rows;
}

function toBordered(rows: number[][], n: number, bandwidth: number) {
  const m = rows.length - n;
  const matrix = createBordered(createBand(n, bandwidth), m);
  for (let i = 0; i < n; i++)
    for (let j = Math.max(0, i - bandwidth); j <= i; j++) addToBand(matrix.band, i, j, rows[i]![j]!);
  for (let q = 0; q < m; q++) {
    for (let i = 0; i < n; i++) addToBorder(matrix, q, i, rows[n + q]![i]!);
    for (let p = 0; p <= q; p++) addToCorner(matrix, q, p, rows[n + q]![n + p]!);
  }
  return matrix;
}

const shapes = fc.record({
  seed: fc.integer({ min: 1, max: 1e6 }),
  n: fc.integer({ min: 1, max: 24 }),
  bandwidth: fc.integer({ min: 0, max: 7 }),
  m: fc.integer({ min: 0, max: 5 }),
});

test('a bordered band is solved, inverted and measured as the dense matrix is', () => {
  fc.assert(
    fc.property(shapes, ({ seed, n, bandwidth, m }) => {
      const width = Math.min(bandwidth, n - 1);
      const rows = makeMatrix(seed, n, width, m);
      const inverse = invertGauss(rows);
      const factor = factorBordered(toBordered(rows, n, width));
      const random = seedRandom(seed + 1);
      const right = rows.map(() => random.normal());
      const x = Float64Array.from(right.slice(0, n));
      const y = Float64Array.from(right.slice(n));
      solveBordered(factor, x, y);
      [...x, ...y].forEach((value, i) =>
        expect(value).toBeCloseTo(
          inverse[i]!.reduce((sum, each, j) => sum + each * right[j]!, 0),
          10,
        ),
      );
      const inverted = invertBordered(factor);
      for (let q = 0; q < m; q++) {
        for (let p = 0; p < m; p++)
          expect(readCovariance(inverted, q, p)).toBeCloseTo(inverse[n + q]![n + p]!, 10);
        for (let i = 0; i < n; i++) expect(readAcross(inverted, q, i)).toBeCloseTo(inverse[n + q]![i]!, 10);
      }
      for (let i = 0; i < n; i++)
        expect(findVariance(inverted, [i], [1], [], [])).toBeCloseTo(inverse[i]![i]!, 10);
      if (n > 1 && width > 0 && m > 0) {
        const share = [0.3, -1.7, 2] as const;
        const at = [n - 2, n - 1, n] as const;
        let wanted = 0;
        at.forEach((i, a) => at.forEach((j, b) => (wanted += share[a]! * share[b]! * inverse[i]![j]!)));
        expect(findVariance(inverted, [n - 2, n - 1], [share[0], share[1]], [0], [share[2]])).toBeCloseTo(
          wanted,
          9,
        );
      }
    }),
    { seed: 1, numRuns: 60 },
  );
});

test('the selected inverse of a band equals the dense inverse inside the band', () => {
  const rows = makeMatrix(5, 30, 4, 0);
  const inverse = invertGauss(rows);
  const factor = factorBand(toBordered(rows, 30, 4).band);
  const x = Float64Array.from({ length: 30 }, (_, i) => i);
  solveLower(factor, x);
  solveUpper(factor, x);
  x.forEach((value, i) =>
    expect(value).toBeCloseTo(
      inverse[i]!.reduce((sum, each, j) => sum + each * j, 0),
      11,
    ),
  );
  const selected = invertBand(factor);
  for (let i = 0; i < 30; i++)
    for (let j = Math.max(0, i - 4); j <= i; j++)
      expect(readBand(selected, i, j)).toBeCloseTo(inverse[i]![j]!, 11);
});

test('a matrix that is not positive definite is a bug, not a result', () => {
  const band = createBand(2, 1);
  addToBand(band, 0, 0, 1);
  addToBand(band, 1, 0, 2);
  addToBand(band, 1, 1, 1);
  expect(() => factorBand(band)).toThrow();
});
