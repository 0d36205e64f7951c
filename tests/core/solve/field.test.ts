import { describe, expect, test } from 'vitest';
import { factorBand, invertBand, readBand, solveLower, solveUpper } from '../../../src/core/solve/banded.ts';
import { buildPrecision } from '../../../src/core/solve/field.ts';
import { chooseGrid, createGrid, indexNode, locateOnGrid } from '../../../src/core/solve/grid.ts';
import { maternCorrelation } from '../../../src/core/solve/matern.ts';

const scale = { rangeMm: 900, sdMm: 8 };
const grid = createGrid({ width: 3600, height: 2450 }, 50);
const factor = factorBand(buildPrecision(grid, scale));
const inverse = invertBand(factor);
const sdAt = (i: number, j: number) => {
  const node = indexNode(grid, i, j);
  return Math.sqrt(readBand(inverse, node, node));
};

// Matern covariance with nu = 1: x K1(x); K1 by Abramowitz & Stegun 9.8, values below from their table 9.8.
describe('the Matern field on the grid', () => {
  test('K1 in the correlation: x K1(x) at x = 0.1, 1 and 2', () => {
    const at = (x: number) => maternCorrelation((x * 900) / Math.sqrt(8), 900);
    expect(at(0.1)).toBeCloseTo(0.9853844781, 6);
    expect(at(1)).toBeCloseTo(0.6019072302, 6);
    expect(at(2)).toBeCloseTo(2 * 0.1398658818, 6);
  });
  test('has the sd that was asked for, within 6 % from the middle to the corners', () => {
    for (let i = 0; i < grid.nx; i += 4)
      for (let j = 0; j < grid.ny; j += 4) {
        expect(sdAt(i, j) / scale.sdMm).toBeGreaterThan(0.94);
        expect(sdAt(i, j) / scale.sdMm).toBeLessThan(1.06);
      }
  });
  // measured without openings: 0.99 to 1.04 at 0.4 m, 0.95 to 1.04 at 2 m, 0.96 to 1.08 at 5 m; the most lies some 0.15 ranges off the convex
  // corners (in the middle at 5 m), the least in the middle of the edges. With openings the spread is measured and mended (ground.test.ts)
  test('has it within 8 % for ranges from 0.4 to 5 m, corners and edges included', () => {
    for (const rangeMm of [400, 2000, 5000]) {
      const own = invertBand(factorBand(buildPrecision(grid, { rangeMm, sdMm: 1 })));
      const sds = Array.from({ length: grid.nx * grid.ny }, (_, node) =>
        Math.sqrt(readBand(own, node, node)),
      );
      expect(Math.min(...sds)).toBeGreaterThan(0.94);
      expect(Math.max(...sds)).toBeLessThan(1.08);
      expect(Math.max(...sds) - Math.min(...sds)).toBeGreaterThan(0.03);
    }
  });
  test('is correlated as the dense Matern covariance says, within 3 % of the variance', () => {
    const [i, j] = [36, 24];
    const column = new Float64Array(grid.nx * grid.ny);
    column[indexNode(grid, i, j)] = 1;
    solveLower(factor, column);
    solveUpper(factor, column);
    for (const [di, dj] of [
      [0, 0],
      [1, 0],
      [0, 2],
      [4, 3],
      [-8, 0],
      [10, -10],
      [18, 0],
    ] as const) {
      const exact = maternCorrelation(50 * Math.hypot(di, dj), scale.rangeMm);
      const found = column[indexNode(grid, i + di, j + dj)]! / scale.sdMm ** 2;
      expect(Math.abs(found - exact)).toBeLessThan(0.03);
    }
  });
});

test('the grid covers the wall, nodes at whole steps, no more than 25,000', () => {
  const chosen = chooseGrid({ width: 3610, height: 2450 });
  expect(chosen).toMatchObject({ stepMm: 25, nx: 146, ny: 99 });
  const long = chooseGrid({ width: 30_000, height: 3000 });
  expect(long.nx * long.ny).toBeLessThanOrEqual(25_000);
  expect((long.nx - 1) * long.stepMm).toBeGreaterThanOrEqual(30_000);
});

test('bilinear weights reproduce a plane and sum to one', () => {
  const place = locateOnGrid(grid, 1234, 777);
  const heights = place.nodes.map((node) => {
    const i = Math.floor(node / grid.ny);
    return 3 + 2 * i * 50 - (node - i * grid.ny) * 50;
  });
  expect(place.weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 12);
  expect(place.weights.reduce((sum, weight, k) => sum + weight * heights[k]!, 0)).toBeCloseTo(
    3 + 2 * 1234 - 777,
    8,
  );
});
