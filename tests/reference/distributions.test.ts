import { expect, test } from 'vitest';
import { CRITICAL_W, DETECTABLE_SHIFT } from '../../src/core/checks/baarda.ts';
import { chiSquareProbability, chiSquareQuantile } from '../../src/core/checks/chiSquare.ts';
import { STUDENT } from '../../src/core/camera/plumbLine.ts';
import { besselK1 } from '../../src/core/solve/matern.ts';
import reference from './distributions.json' with { type: 'json' };

const { k_norm, delta0_001_80, lambda0, t_975 } = reference;
const TAILS = [0.005, 0.025, 0.05, 0.95, 0.975, 0.995];

// Standard chi-square table (as in Ghilani & Wolf, Adjustment Computations, table D.2), to all figures by an independent library (scipy).
test('chi-square quantiles for 1 to 100 degrees of freedom, six tails each', () => {
  const rows = Object.entries(reference.chi2);
  expect(rows.length).toBe(13);
  for (const [freedom, published] of rows)
    TAILS.forEach((tail, k) => {
      expect(Math.abs(chiSquareQuantile(tail, Number(freedom)) / published[k]! - 1)).toBeLessThan(1e-10);
      expect(Math.abs(chiSquareProbability(published[k]!, Number(freedom)) - tail)).toBeLessThan(1e-12);
    });
});

// Standard normal, two-sided; a chi-square of one degree is its square.
test('normal limits at 5, 1 and 0.1 %', () => {
  expect(CRITICAL_W).toBeCloseTo(k_norm['0.001'], 13);
  for (const level of ['0.05', '0.01', '0.001'] as const)
    expect(Math.sqrt(chiSquareQuantile(1 - Number(level), 1))).toBeCloseTo(k_norm[level], 10);
});

// Baarda 1968: non-centrality of a test at 0.1 % with power 0.80.
test('shift that is found with probability 0.80, and its square', () => {
  expect(DETECTABLE_SHIFT).toBeCloseTo(delta0_001_80, 13);
  expect(DETECTABLE_SHIFT ** 2).toBeCloseTo(lambda0, 11);
});

// Student's t, 97.5 % (standard table), over the normal 97.5 % point: how much few edges widen the sigma of a lens.
test('widening by Student, to the figures it is kept with', () => {
  for (const freedom of ['1', '2', '3', '5', '10'] as const)
    expect(Math.abs(STUDENT[Number(freedom) - 1]! - t_975[freedom] / k_norm['0.05'])).toBeLessThan(0.0051);
});

// Abramowitz & Stegun 1964, table 9.8 (modified Bessel functions of orders 0 and 1; to its ten figures, checked by scipy).
test('Bessel function K1 as tabled', () => {
  for (const [x, tabled] of [
    [0.1, 9.853844781],
    [0.2, 4.775972543],
    [0.5, 1.65644112],
    [1, 0.6019072302],
    [1.5, 0.2773878005],
    [2, 0.1398658818],
    [2.5, 0.07389081635],
    [3, 0.04015643113],
    [5, 0.004044613445],
    [10, 1.864877345e-5],
  ] as const)
    expect(Math.abs(besselK1(x) / tabled - 1)).toBeLessThan(3e-8);
});

// Abramowitz & Stegun 9.6.24, K1(x) = integral over t >= 0 of exp(-x cosh t) cosh t, by the trapezoidal rule.
test('Bessel function K1 as its integral: x K1(x) within 3e-8 everywhere', () => {
  const stepOf = 0.01;
  for (let x = 0.02; x < 15; x += 0.07) {
    let sum = 0.5 * Math.exp(-x);
    for (let t = stepOf; t < 12; t += stepOf) sum += Math.exp(-x * Math.cosh(t)) * Math.cosh(t);
    expect(Math.abs(besselK1(x) - sum * stepOf) * x).toBeLessThan(3e-8);
  }
});
