import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chiSquareProbability, chiSquareQuantile } from '../../../src/core/checks/chiSquare.ts';

const square = fc.double({ min: 0.001, max: 400, noNaN: true });
const freedom = fc.double({ min: 0.3, max: 300, noNaN: true });

describe('probability of a chi-square', () => {
  // Abramowitz & Stegun 26.4.5: for an even number of degrees a finite sum of a Poisson distribution.
  test('2, 4 and 12 degrees as their closed forms say', () => {
    for (const x of [1e-6, 0.1, 1, 2, 5.991464547107979, 11, 13, 40, 90]) {
      const half = x / 2;
      for (const degrees of [2, 4, 12]) {
        let term = Math.exp(-half);
        let above = term;
        for (let k = 1; k < degrees / 2; k++) above += term *= half / k;
        expect(Math.abs(chiSquareProbability(x, degrees) - (1 - above))).toBeLessThan(2e-14);
      }
    }
  });
  test('1 degree is the square of a normal variable: 1, 1.96, 2.576 and 3.29 sigma', () => {
    for (const [w, inside] of [
      [1, 0.6826894921370859],
      [1.959963984540054, 0.95],
      [2.5758293035489004, 0.99],
      [3.2905267314919255, 0.999],
    ] as const)
      expect(chiSquareProbability(w ** 2, 1)).toBeCloseTo(inside, 13);
  });
  // Abramowitz & Stegun 26.4.8, for 1 degree with Gamma(3/2) = sqrt(pi) / 2 and so on upwards.
  test('each two degrees more take away one term, up to 61 degrees', () => {
    for (const x of [0.5, 3, 20, 80]) {
      let term = Math.sqrt(x / 2) * Math.exp(-x / 2) * (2 / Math.sqrt(Math.PI));
      for (let degrees = 1; degrees < 61; degrees += 2) {
        const less = chiSquareProbability(x, degrees) - term;
        expect(Math.abs(chiSquareProbability(x, degrees + 2) - less)).toBeLessThan(1e-13);
        term *= x / 2 / (degrees / 2 + 1);
      }
    }
  });
  test('rises with the square, falls with the degrees, stays between 0 and 1', () => {
    fc.assert(
      fc.property(square, square, freedom, (x, more, degrees) => {
        const p = chiSquareProbability(x, degrees);
        expect(p).toBeGreaterThanOrEqual(0);
        expect(p).toBeLessThanOrEqual(1);
        expect(chiSquareProbability(x + more, degrees)).toBeGreaterThanOrEqual(p - 1e-14);
        expect(chiSquareProbability(x, degrees + 1)).toBeLessThanOrEqual(p + 1e-14);
      }),
      { seed: 26, numRuns: 300 },
    );
  });
  test('does not jump where the series gives way to the fraction', () => {
    for (const degrees of [1, 2.7, 30, 1000]) {
      const at = degrees + 2;
      const [below, above] = [1 - 1e-12, 1 + 1e-12].map((share) => chiSquareProbability(at * share, degrees));
      expect(Math.abs(above! - below!)).toBeLessThan(1e-10);
    }
  });
  test('nothing is below 0, and half is below the median of many degrees', () => {
    expect(chiSquareProbability(0, 3)).toBe(0);
    expect(chiSquareProbability(-1, 3)).toBe(0);
    // Wilson & Hilferty 1931: the median is near k (1 - 2 / (9 k))^3
    expect(chiSquareProbability(5000 * (1 - 2 / 45_000) ** 3, 5000)).toBeCloseTo(0.5, 5);
  });
});

describe('quantile of a chi-square', () => {
  test('is passed with the probability asked for, whatever the degrees', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 0.999, noNaN: true }), freedom, (p, degrees) => {
        expect(Math.abs(chiSquareProbability(chiSquareQuantile(p, degrees), degrees) - p)).toBeLessThan(
          1e-11,
        );
      }),
      { seed: 27, numRuns: 200 },
    );
  });
  test('undoes the probability of a square', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.2, max: 1.8, noNaN: true }), freedom, (share, degrees) => {
        const x = share * (degrees + 1);
        const p = chiSquareProbability(x, degrees);
        fc.pre(p > 1e-6 && p < 1 - 1e-6);
        expect(Math.abs(chiSquareQuantile(p, degrees) / x - 1)).toBeLessThan(1e-8);
      }),
      { seed: 28, numRuns: 200 },
    );
  });
  test('rises with the probability and with the degrees', () => {
    let last = 0;
    for (const p of [0.001, 0.025, 0.5, 0.95, 0.975, 0.999]) {
      const value = chiSquareQuantile(p, 7);
      expect(value).toBeGreaterThan(last);
      expect(chiSquareQuantile(p, 8)).toBeGreaterThan(value);
      last = value;
    }
  });
  test('of 2 degrees is -2 ln of what is left', () => {
    for (const p of [1e-9, 0.01, 0.5, 0.95, 0.999]) {
      expect(Math.abs(chiSquareQuantile(p, 2) / (-2 * Math.log1p(-p)) - 1)).toBeLessThan(1e-6);
    }
  });
});
