import { describe, expect, test } from 'vitest';
import { invertSymmetric } from '../../../src/core/camera/dense.ts';
import { minimizeSquares } from '../../../src/core/camera/levenbergMarquardt.ts';

describe('NIST StRD nonlinear regression, Misra1a: y = b1 (1 - exp(-b2 x)), certified values (itl.nist.gov/div898/strd)', () => {
  const x = [77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0];
  const y = [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78];
  const evaluate = (b: Float64Array) => {
    const values = Float64Array.from(x, (xi, i) => b[0]! * (1 - Math.exp(-b[1]! * xi)) - y[i]!);
    const jacobian = Float64Array.from(
      x.flatMap((xi) => [1 - Math.exp(-b[1]! * xi), b[0]! * xi * Math.exp(-b[1]! * xi)]),
    );
    return { values, jacobian };
  };
  test.each([
    ['start 1', [500, 0.0001]],
    ['start 2', [250, 0.0005]],
  ])('%s', (_, start) => {
    const found = minimizeSquares(evaluate, Float64Array.from(start))!;
    expect(found.ended).toBe('converged');
    expect(found.parameters[0]! / 2.3894212918e2).toBeCloseTo(1, 8);
    expect(found.parameters[1]! / 5.5015643181e-4).toBeCloseTo(1, 8);
    expect(found.cost / 1.2455138894e-1).toBeCloseTo(1, 9);
    // certified standard deviations: residual variance with 12 degrees of freedom
    const inverse = invertSymmetric(found.information, 2)!;
    expect(Math.sqrt((inverse[0]! * found.cost) / 12) / 2.7070075241).toBeCloseTo(1, 6);
    expect(Math.sqrt((inverse[3]! * found.cost) / 12) / 7.2668688436e-6).toBeCloseTo(1, 6);
  });
});

// Rosenbrock 1960; standard start and minimum as in More, Garbow, Hillstrom 1981, problem 1 (from memory)
test('Rosenbrock: minimum 0 at (1, 1) from (-1.2, 1)', () => {
  const found = minimizeSquares(
    (p) => ({
      values: Float64Array.of(10 * (p[1]! - p[0]! ** 2), 1 - p[0]!),
      jacobian: Float64Array.of(-20 * p[0]!, 10, -1, 0),
    }),
    Float64Array.of(-1.2, 1),
  )!;
  expect(found.ended).toBe('converged');
  expect(found.parameters[0]).toBeCloseTo(1, 8);
  expect(found.parameters[1]).toBeCloseTo(1, 8);
});

test('outside the domain: no start gives null, a step outside is taken back', () => {
  const evaluate = (p: Float64Array) =>
    p[0]! > 0 ? { values: Float64Array.of(Math.log(p[0]!)), jacobian: Float64Array.of(1 / p[0]!) } : null;
  expect(minimizeSquares(evaluate, Float64Array.of(-1))).toBeNull();
  const found = minimizeSquares(evaluate, Float64Array.of(20))!;
  expect(found.parameters[0]).toBeCloseTo(1, 8);
});

test('out of iterations it says so', () => {
  const slow = (p: Float64Array) => ({
    values: Float64Array.of(10 * (p[1]! - p[0]! ** 2), 1 - p[0]!),
    jacobian: Float64Array.of(-20 * p[0]!, 10, -1, 0),
  });
  const found = minimizeSquares(slow, Float64Array.of(-1.2, 1), 3)!;
  expect(found.ended).toBe('limit');
  expect(found.iterations).toBe(3);
});
