import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  evaluateForm,
  factorCholesky,
  invertSymmetric,
  solveCholesky,
} from '../../../src/core/camera/dense.ts';

/** A positive definite matrix B B^T + I of unlike units, from its random entries. */
function build(entries: readonly number[], n: number): Float64Array {
  const a = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      let sum = i === j ? 1 : 0;
      for (let k = 0; k < n; k++) sum += entries[i * n + k]! * entries[j * n + k]!;
      a[i * n + j] = sum * 10 ** (i % 4) * 10 ** (j % 4);
    }
  return a;
}

test('solution and inverse of a positive definite matrix, in unlike units', () => {
  const entries = fc.array(fc.double({ min: -2, max: 2, noNaN: true }), { minLength: 36, maxLength: 36 });
  fc.assert(
    fc.property(entries, (values) => {
      const a = build(values, 6);
      const x = Float64Array.of(1, -2, 3, -4, 5, -6);
      const b = Float64Array.from(x, (_, i) => x.reduce((sum, value, j) => sum + a[i * 6 + j]! * value, 0));
      solveCholesky(factorCholesky(a, 6)!, 6, b).forEach((value, i) => expect(value).toBeCloseTo(x[i]!, 6));
      const inverse = invertSymmetric(a, 6)!;
      for (let i = 0; i < 6; i++)
        for (let j = 0; j < 6; j++) {
          let sum = 0;
          for (let k = 0; k < 6; k++) sum += a[i * 6 + k]! * inverse[k * 6 + j]!;
          expect(sum / 10 ** ((i % 4) - (j % 4))).toBeCloseTo(i === j ? 1 : 0, 8);
        }
      // b^T A^-1 b = x^T A x
      expect(evaluateForm(inverse, 6, b) / evaluateForm(a, 6, x)).toBeCloseTo(1, 9);
    }),
    { seed: 4, numRuns: 60 },
  );
});

// 3 x 3 Hilbert matrix, whose inverse is known in whole numbers (Todd 1954, NBS AMS 39; from memory)
test('the inverse of the Hilbert matrix is whole numbers', () => {
  const hilbert = Float64Array.from({ length: 9 }, (_, at) => 1 / (Math.floor(at / 3) + (at % 3) + 1));
  const whole = [9, -36, 30, -36, 192, -180, 30, -180, 180];
  invertSymmetric(hilbert, 3)!.forEach((value, at) => expect(value).toBeCloseTo(whole[at]!, 9));
});

test('a singular, an indefinite and an empty diagonal give null', () => {
  expect(invertSymmetric(Float64Array.of(1, 1, 1, 1), 2)).toBeNull();
  expect(factorCholesky(Float64Array.of(1, 2, 2, 1), 2)).toBeNull();
  expect(invertSymmetric(Float64Array.of(1, 0, 0, 0), 2)).toBeNull();
});
