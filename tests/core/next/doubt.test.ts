import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { expectDoubt, findDoubt, listChances } from '../../../src/core/next/doubt.ts';
import { normalBelow } from '../../../src/core/next/normal.ts';

const ends = [5, 20, 40] as const;
const beds = fc.double({ min: -5, max: 60, noNaN: true });
const sigmas = fc.double({ min: 0.05, max: 12, noNaN: true });

describe('chances at a node', () => {
  test('are those of a normal bed, and NaN where there is no wall', () => {
    const limits = { min: 5, max: 20, packedMax: 40 };
    const { thin, overMax, overPacked } = listChances(
      Float64Array.of(5, 6, 19, NaN),
      Float64Array.of(1, 1, 2, NaN),
      limits,
    );
    [0.5, normalBelow(-1), normalBelow(-7)].forEach((p, k) => expect(thin[k]).toBeCloseTo(p, 5));
    expect(overMax[2]).toBeCloseTo(normalBelow(-0.5), 5);
    expect(overPacked[2]).toBe(0);
    expect([thin[3], overMax[3], overPacked[3]]).toEqual([NaN, NaN, NaN]);
  });
});

describe('doubt', () => {
  test('is half on a limit, none far from every limit or with nothing unknown', () => {
    expect(findDoubt(20, 0.5, ends)).toBeCloseTo(0.5, 9);
    expect(findDoubt(12.5, 0.5, ends)).toBeLessThan(1e-9);
    expect(findDoubt(19.9, 0, ends)).toBe(0);
  });

  test('is never over three quarters, the least that the best of four zones leaves', () => {
    fc.assert(
      fc.property(beds, fc.double({ min: 0, max: 1000, noNaN: true }), (bed, sigma) => {
        const doubt = findDoubt(bed, sigma, ends);
        expect(doubt).toBeGreaterThanOrEqual(-1e-9);
        expect(doubt).toBeLessThanOrEqual(0.75);
      }),
      { seed: 2 },
    );
  });
});

/** Owen's T by Simpson's rule. Owen 1956, Ann. Math. Statist. 27, eq. 1.4 (from memory). */
function owenT(h: number, a: number): number {
  const steps = 4000;
  const f = (x: number) => Math.exp((-h * h * (1 + x * x)) / 2) / (1 + x * x);
  let sum = f(0) + f(a);
  for (let k = 1; k < steps; k++) sum += (k % 2 === 1 ? 4 : 2) * f((k * a) / steps);
  return (sum * a) / steps / 3 / (2 * Math.PI);
}

describe('doubt to be expected after a measurement', () => {
  // one limit: bed and its mean to come are bivariate normal, and the chance that they lie on either side of it is 2 T
  test("with one limit in reach it is twice Owen's T", () => {
    for (const over of [0, 0.3, 1, 2])
      for (const after of [0.4, 0.6, 0.8, 0.95, 0.99]) {
        const sigma = 1.2;
        const a = after / Math.sqrt(1 - after ** 2);
        const exact = 2 * owenT(over, a);
        const got = expectDoubt(20 + over * sigma, sigma, after * sigma, ends);
        expect(Math.abs(got - exact), `${over} ${after}`).toBeLessThan(0.01 * exact + 0.003);
      }
  });

  test('is the present doubt when nothing is learnt, and none when everything is', () => {
    fc.assert(
      fc.property(beds, sigmas, (bed, sigma) => {
        expect(expectDoubt(bed, sigma, sigma, ends)).toBeCloseTo(findDoubt(bed, sigma, ends), 12);
        expect(expectDoubt(bed, sigma, 0.01 * sigma, ends)).toBeLessThan(0.12);
      }),
      { seed: 3 },
    );
  });

  test('is never more than the present doubt: evidence does not hurt on average', () => {
    fc.assert(
      fc.property(beds, sigmas, fc.double({ min: 0.2, max: 1, noNaN: true }), (bed, sigma, share) => {
        const now = findDoubt(bed, sigma, ends);
        expect(expectDoubt(bed, sigma, share * sigma, ends)).toBeLessThan(now + 0.003);
      }),
      { seed: 4 },
    );
  });
});
