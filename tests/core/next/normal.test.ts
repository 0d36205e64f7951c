import fc from 'fast-check';
import { expect, test } from 'vitest';
import { normalBelow } from '../../../src/core/next/normal.ts';

// Abramowitz & Stegun 1964, table 26.1, P(x) to 15 decimals (from memory)
const published: readonly (readonly [z: number, p: number])[] = [
  [0, 0.5],
  [0.5, 0.691462461274013],
  [1, 0.841344746068543],
  [1.5, 0.933192798731142],
  [2, 0.977249868051821],
  [2.5, 0.993790334674224],
  [3, 0.99865010196837],
  [4, 0.999968328758167],
];

test.each(published)('P(%d) is as published', (z, p) => {
  expect(Math.abs(normalBelow(z) - p)).toBeLessThan(1e-9);
  expect(Math.abs(normalBelow(-z) - (1 - p))).toBeLessThan(1e-9);
});

test("quantiles: 2.5 % and 0.05 % in each tail, the latter that of Baarda's test", () => {
  // usual two-sided normal quantiles, as in any table
  expect(Math.abs(normalBelow(1.959963984540054) - 0.975)).toBeLessThan(1e-9);
  expect(Math.abs(normalBelow(-3.290526731491926) - 0.0005)).toBeLessThan(1e-9);
});

test('between the nodes of its table it is the integral of the density', () => {
  fc.assert(
    fc.property(fc.double({ min: -6, max: 6, noNaN: true }), (z) => {
      // Simpson's rule from -9, 4000 steps
      const steps = 4000;
      const h = (z + 9) / steps;
      const density = (x: number) => Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI);
      let sum = density(-9) + density(z);
      for (let k = 1; k < steps; k++) sum += (k % 2 === 1 ? 4 : 2) * density(-9 + k * h);
      expect(Math.abs(normalBelow(z) - (sum * h) / 3)).toBeLessThan(1e-9);
    }),
    { seed: 1, numRuns: 60 },
  );
});

test('far out it is 0 and 1, of nothing it is nothing', () => {
  expect([-Infinity, -50, 50, Infinity].map(normalBelow)).toEqual([0, 0, 1, 1]);
  expect(normalBelow(NaN)).toBeNaN();
});
