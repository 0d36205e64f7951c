import { describe, expect, test } from 'vitest';
import { CRITICAL_W } from '../../src/core/checks/baarda.ts';
import { chiSquareQuantile } from '../../src/core/checks/chiSquare.ts';
import { leastSquares, type LeastSquares } from '../../src/core/checks/leastSquares.ts';
import { createBand, addToBand } from '../../src/core/solve/banded.ts';
import { createBordered, factorBordered, solveBordered } from '../../src/core/solve/bordered.ts';
import reference from './adjustment.json' with { type: 'json' };

type Run = readonly [from: string, to: string, rise: number, sigma: number];
interface Network {
  readonly fixed: Readonly<Record<string, number>>;
  readonly runs: readonly Run[];
}

/** The design of a levelling network: one row per run, one column per unknown height. */
function designNetwork({ fixed, runs }: Network) {
  const names = [...new Set(runs.flatMap(([from, to]) => [from, to]))]
    .filter((name) => !(name in fixed))
    .sort();
  const rows = runs.map(([from, to]) => names.map((name) => Number(name === to) - Number(name === from)));
  const observed = runs.map(([from, to, rise]) => rise + (fixed[from] ?? 0) - (fixed[to] ?? 0));
  return { names, rows, observed, sigmas: runs.map(([, , , sigma]) => sigma) };
}

function adjustNetwork(network: Network): LeastSquares & { heights: Record<string, number> } {
  const { names, rows, observed, sigmas } = designNetwork(network);
  const fit = leastSquares(
    Float64Array.from(rows.flat()),
    names.length,
    Float64Array.from(observed),
    Float64Array.from(sigmas),
  );
  return { ...fit, heights: Object.fromEntries(names.map((name, k) => [name, fit.solution[k]!])) };
}

/** Residuals (there: adjusted less observed), redundancies and w of every run. */
function checkTests(
  fit: LeastSquares,
  known: { readonly v: number[]; readonly redundancy: number[]; readonly w: number[] },
) {
  expect(fit.tests.length).toBe(known.v.length);
  fit.tests.forEach((each, k) => {
    expect(each.residual).toBeCloseTo(-known.v[k]!, 8);
    expect(each.redundancy).toBeCloseTo(known.redundancy[k]!, 9);
    expect(each.w).toBeCloseTo(-known.w[k]!, 7);
  });
}

const example = reference.level_ghilani_wolf_12_1;
const network: Network = { fixed: example.fixed, runs: example.obs as unknown as Run[] };

// Ghilani & Wolf, Adjustment Computations, example 12.1: published heights to 0.1 mm, the rest computed to all figures.
describe('levelling network, Ghilani & Wolf example 12.1', () => {
  const fit = adjustNetwork(network);

  test('heights as published', () => {
    for (const name of ['B', 'C', 'D'] as const) {
      expect(Math.abs(fit.heights[name]! - example.published[name])).toBeLessThan(0.00006);
      expect(fit.heights[name]).toBeCloseTo(example.computed.x[name], 9);
    }
  });
  test('standard deviations, residuals, redundancies and w', () => {
    const { sx, vTPv, dof } = example.computed;
    (['B', 'C', 'D'] as const).forEach((name, k) =>
      expect(Math.sqrt(fit.cofactors[k * 3 + k]!)).toBeCloseTo(sx[name], 10),
    );
    checkTests(fit, example.computed);
    expect(fit.tests.every(({ w }) => Math.abs(w) < CRITICAL_W)).toBe(true);
    expect(fit.squareSum).toBeCloseTo(vTPv, 8);
    expect(fit.redundancy).toBe(dof);
  });
  test('passes the two-sided 95 % chi-square test of three degrees of freedom', () => {
    expect(fit.squareSum).toBeGreaterThan(chiSquareQuantile(0.025, fit.redundancy));
    expect(fit.squareSum).toBeLessThan(chiSquareQuantile(0.975, fit.redundancy));
  });
  test('smallest detectable errors, mm', () => {
    [30.6, 28.8, 29.0, 28.6, 25.1, 52.7].forEach((detectable, k) =>
      expect(Math.abs(fit.tests[k]!.detectable * 1000 - detectable)).toBeLessThan(0.06),
    );
  });
  test('the solve’s own bordered band gives the same heights, one height as border', () => {
    const { names, rows, observed, sigmas } = designNetwork(network);
    const matrix = createBordered(createBand(2, 1), 1);
    const right = new Float64Array(2);
    const border = new Float64Array(1);
    rows.forEach((row, i) => {
      const share = 1 / sigmas[i]! ** 2;
      for (let a = 0; a < 2; a++) {
        right[a]! += share * row[a]! * observed[i]!;
        for (let b = 0; b <= a; b++) addToBand(matrix.band, a, b, share * row[a]! * row[b]!);
        matrix.border[a]! += share * row[2]! * row[a]!;
      }
      border[0]! += share * row[2]! * observed[i]!;
      matrix.corner[0]! += share * row[2]! * row[2]!;
    });
    solveBordered(factorBordered(matrix), right, border);
    [right[0]!, right[1]!, border[0]!].forEach((height, k) =>
      expect(height).toBeCloseTo(fit.heights[names[k]!]!, 8),
    );
  });
});

// The same network with 30 mm added to its fifth run (computed): only that run passes the limit, and the error is told.
test('a run wrong by 30 mm is named', () => {
  const wrong = reference.level_12_1_blunder_30mm_obs5;
  const fit = adjustNetwork({ fixed: example.fixed, runs: wrong.obs as unknown as Run[] });
  checkTests(fit, wrong.computed);
  expect(fit.tests.flatMap(({ w }, k) => (Math.abs(w) > CRITICAL_W ? [k] : []))).toEqual([4]);
  expect(fit.squareSum).toBeCloseTo(wrong.computed.vTPv, 7);
  const { residual, redundancy } = fit.tests[4]!;
  expect(Math.abs(residual / redundancy) * 1000).toBeCloseTo(25.6, 1);
  expect(residual * 1000).toBeGreaterThan(0); // observed too high, as it was made
  for (const name of ['B', 'C', 'D'] as const)
    expect(fit.heights[name]).toBeCloseTo(wrong.computed.x[name], 9);
  expect(fit.squareSum).toBeGreaterThan(chiSquareQuantile(0.975, fit.redundancy));
  const mended = adjustNetwork({ fixed: example.fixed, runs: network.runs.filter((_, k) => k !== 4) });
  expect(mended.squareSum).toBeCloseTo(0.754098, 6);
  expect(mended.redundancy).toBe(2);
  expect(mended.heights.B).toBeCloseTo(448.1067705, 7);
  expect(mended.heights.C).toBeCloseTo(453.4675574, 7);
  expect(mended.heights.D).toBeCloseTo(444.9441475, 7);
});

// Network with two benchmarks, after Ghilani & Wolf (from memory, recomputed); weights 12 / length.
test('two benchmarks, with and without weights', () => {
  const { fixed, obs_from_to_dh_len, unweighted, weight_12_over_len } = reference.level_two_benchmarks;
  const runs = obs_from_to_dh_len as unknown as readonly [string, string, number, number][];
  const plain = adjustNetwork({ fixed, runs: runs.map(([from, to, rise]) => [from, to, rise, 1]) });
  const weighted = adjustNetwork({
    fixed,
    runs: runs.map(([from, to, rise, length]) => [from, to, rise, Math.sqrt(length / 12)]),
  });
  for (const name of ['A', 'B', 'C'] as const) {
    expect(plain.heights[name]).toBeCloseTo(unweighted.x[name], 9);
    expect(weighted.heights[name]).toBeCloseTo(weight_12_over_len.x[name], 9);
  }
  expect(plain.unitSigma).toBeCloseTo(0.050119, 6);
  expect(weighted.unitSigma).toBeCloseTo(0.107219, 6);
  for (const [fit, known] of [
    [plain, unweighted],
    [weighted, weight_12_over_len],
  ] as const) {
    (['A', 'B', 'C'] as const).forEach((name, k) =>
      expect(Math.sqrt(fit.cofactors[k * 3 + k]!)).toBeCloseTo(known.sx[name], 9),
    );
    checkTests(fit, known);
    expect(fit.squareSum).toBeCloseTo(known.vTPv, 9);
    expect(fit.redundancy).toBe(known.dof);
  }
});

// Published output of a network adjustment (double-run loop): heights to 0.01 mm, sums to their printed figures.
test('double-run loop as printed', () => {
  const { fixed, obs, published, computed } = reference.level_double_run_loop;
  const fit = adjustNetwork({ fixed, runs: obs as unknown as Run[] });
  expect(Math.abs(fit.heights['4']! - published.h4)).toBeLessThan(6e-6);
  expect(Math.abs(fit.heights['3']! - published.h3)).toBeLessThan(6e-6);
  expect(Math.abs(fit.heights['2']! - published.h2)).toBeLessThan(6e-6);
  const sumMm2 = fit.residuals.reduce((sum, v) => sum + (v * 1000) ** 2, 0);
  expect(sumMm2).toBeCloseTo(published.pvv_mm2, 6);
  expect(Math.max(...fit.tests.map(({ w }) => Math.abs(w)))).toBeCloseTo(published.max_norm_res, 2);
  // its printed sds and m0 are of 5 mm a run, and of the residuals
  (['2', '3', '4'] as const).forEach((name, k) => {
    expect(Math.sqrt(fit.cofactors[k * 3 + k]!)).toBeCloseTo(computed.sx[name], 10);
    expect(Math.abs(Math.sqrt(fit.cofactors[k * 3 + k]!) * 1000 - published.sd_mm[k]!)).toBeLessThan(0.051);
  });
  expect(fit.unitSigma * 5).toBeCloseTo(published.m0_mm, 2);
  checkTests(fit, computed);
});

// The network of example 12.1 with no height known (computed): the solution of least norm, by the inner constraint that the
// heights sum to nothing, which leaves every difference of height and every residual as it was.
test('without a benchmark: refused as it is, of least norm with the inner constraint', () => {
  const free: Network = { fixed: {}, runs: network.runs };
  expect(() => adjustNetwork(free)).toThrow(/depends/);
  const { names, rows, observed, sigmas } = designNetwork(free);
  const fit = leastSquares(
    Float64Array.from([...rows, names.map(() => 1)].flat()),
    4,
    Float64Array.from([...observed, 0]),
    Float64Array.from([...sigmas, 1e-6]),
  );
  const known = reference.level_12_1_without_datum;
  (['A', 'B', 'C', 'D'] as const).forEach((name, k) => expect(fit.solution[k]).toBeCloseTo(known.x[name], 7));
  const held = adjustNetwork(network);
  ['B', 'C', 'D'].forEach((name, k) =>
    expect(fit.solution[k + 1]! - fit.solution[0]! + 437.596).toBeCloseTo(held.heights[name]!, 9),
  );
  held.tests.forEach((each, k) => expect(fit.tests[k]!.w).toBeCloseTo(each.w, 6));
  expect(fit.squareSum).toBeCloseTo(example.computed.vTPv, 7);
  const trace = [0, 1, 2, 3].reduce((sum, k) => sum + fit.cofactors[k * 4 + k]!, 0);
  expect(Math.abs(trace - known.trace_q)).toBeLessThan(1e-10);
});
