import fc from 'fast-check';
import { expect, test } from 'vitest';
import { testLeftOut } from '../../../src/core/checks/baarda.ts';
import { leastSquares } from '../../../src/core/checks/leastSquares.ts';
import { seedRandom } from '../../truth/random.ts';

function makeProblem(seed: number, m: number, n: number) {
  const random = seedRandom(seed);
  return {
    design: Float64Array.from({ length: m * n }, () => random.normal()),
    observed: Float64Array.from({ length: m }, () => 10 * random.normal()),
    sigmas: Float64Array.from({ length: m }, () => random.between(0.5, 2)),
  };
}
const shapes = fc.record({
  seed: fc.integer({ min: 1, max: 1e6 }),
  n: fc.integer({ min: 1, max: 5 }),
  more: fc.integer({ min: 2, max: 12 }),
});

test('weighted residuals are square to every column, redundancies sum to m - n', () => {
  fc.assert(
    fc.property(shapes, ({ seed, n, more }) => {
      const m = n + more;
      const { design, observed, sigmas } = makeProblem(seed, m, n);
      const fit = leastSquares(design, n, observed, sigmas);
      for (let k = 0; k < n; k++) {
        let dot = 0;
        for (let i = 0; i < m; i++) dot += (design[i * n + k]! * fit.residuals[i]!) / sigmas[i]! ** 2;
        expect(Math.abs(dot)).toBeLessThan(1e-9);
      }
      const sum = fit.tests.reduce((total, { redundancy }) => total + redundancy, 0);
      expect(sum).toBeCloseTo(m - n, 9);
    }),
    { seed: 2, numRuns: 50 },
  );
});
test('w of an observation that took part equals w of the same one left out and predicted', () => {
  fc.assert(
    fc.property(shapes, ({ seed, n, more }) => {
      const m = n + more;
      const { design, observed, sigmas } = makeProblem(seed, m, n);
      const whole = leastSquares(design, n, observed, sigmas);
      const rest = leastSquares(design.slice(n), n, observed.slice(1), sigmas.slice(1));
      let predicted = 0;
      let variance = 0;
      for (let a = 0; a < n; a++) {
        predicted += design[a]! * rest.solution[a]!;
        for (let b = 0; b < n; b++) variance += design[a]! * rest.cofactors[a * n + b]! * design[b]!;
      }
      const left = testLeftOut(observed[0]! - predicted, sigmas[0]!, variance);
      expect(left.w).toBeCloseTo(whole.tests[0]!.w, 7);
      expect(left.redundancy).toBeCloseTo(whole.tests[0]!.redundancy, 9);
      expect(left.detectable).toBeCloseTo(whole.tests[0]!.detectable, 7);
    }),
    { seed: 3, numRuns: 50 },
  );
});
test('an observation that nothing checks has w 0 and no detectable error', () => {
  const fit = leastSquares(Float64Array.of(1, 0, 0, 1, 0, 1), 2, Float64Array.of(5, 1, 2));
  expect(fit.tests[0]!.w).toBe(0);
  expect(fit.tests[0]!.detectable).toBe(Infinity);
});
test('columns that depend on each other are a bug, not a result', () => {
  expect(() => leastSquares(Float64Array.of(1, 2, 2, 4, 3, 6), 2, Float64Array.of(1, 2, 3))).toThrow();
});
