import { factorCholesky, solveCholesky } from './dense.ts';

/** Standardised residuals (modelled - observed, over sigma) and their derivatives by the n parameters, row-major m x n. */
export interface Residuals {
  readonly values: Float64Array;
  readonly jacobian: Float64Array;
}

/** How the minimiser ended: `converged`; `stalled` = no better step to be found; `limit` = out of iterations. */
export type Ending = 'converged' | 'stalled' | 'limit';

export interface Minimum {
  readonly parameters: Float64Array;
  /** Sum of squared residuals. */
  readonly cost: number;
  readonly residuals: Residuals;
  /** J^T J at the end, n x n. */
  readonly information: Float64Array;
  readonly iterations: number;
  readonly ended: Ending;
}

const MAX_ITERATIONS = 100;
/** A step that promises less than this share of the cost, twice in a row, is the end. */
const QUIET = 1e-12;

/**
 * Parameters that minimise the sum of squared residuals, by Levenberg-Marquardt with Marquardt's diagonal scaling and
 * Nielsen's damping rule; null where the start itself has no residuals. `evaluate` returns null outside the model's domain.
 * Source: Madsen, Nielsen, Tingleff 2004, "Methods for non-linear least squares problems", algorithm 3.16 (from memory).
 */
export function minimizeSquares(
  evaluate: (parameters: Float64Array) => Residuals | null,
  start: Float64Array,
  maxIterations = MAX_ITERATIONS,
): Minimum | null {
  const n = start.length;
  let parameters = Float64Array.from(start);
  let residuals = evaluate(parameters);
  if (!residuals) return null;
  let cost = squareSum(residuals.values);
  let damping = 1e-3;
  let growth = 2;
  let normal = formNormal(residuals, n);
  let quietSteps = 0;
  const end = (iterations: number, ended: Ending): Minimum => ({
    parameters,
    cost,
    residuals: residuals!,
    information: normal.information,
    iterations,
    ended,
  });
  for (let iteration = 1; iteration <= maxIterations; iteration++) {
    const damped = Float64Array.from(normal.information);
    for (let i = 0; i < n; i++) damped[i * n + i]! *= 1 + damping;
    const factor = factorCholesky(damped, n, 0);
    const step = factor ? solveCholesky(factor, n, normal.gradient) : new Float64Array(n).fill(NaN);
    const trial = parameters.map((value, i) => value - step[i]!);
    const next = step.every(Number.isFinite) ? evaluate(trial) : null;
    const nextCost = next ? squareSum(next.values) : Infinity;
    if (!Number.isNaN(nextCost) && nextCost <= cost) {
      // what the damped quadratic promised, to be compared with what came
      let promised = 0;
      for (let i = 0; i < n; i++)
        promised += step[i]! * (damping * normal.information[i * n + i]! * step[i]! + normal.gradient[i]!);
      const gained = cost - nextCost;
      quietSteps = promised <= QUIET * (1e-6 + cost) ? quietSteps + 1 : 0;
      parameters = trial;
      residuals = next!;
      cost = nextCost;
      normal = formNormal(residuals, n);
      damping *= Math.max(1 / 3, 1 - (2 * (promised > 0 ? gained / promised : 1) - 1) ** 3);
      damping = Math.max(damping, 1e-12);
      growth = 2;
      if (quietSteps >= 2 || cost === 0) return end(iteration, 'converged');
    } else {
      if (damping > 1e12) return end(iteration, isFlat(normal, cost, n) ? 'converged' : 'stalled');
      damping *= growth;
      growth *= 2;
    }
  }
  return end(maxIterations, 'limit');
}

interface Normal {
  readonly information: Float64Array;
  readonly gradient: Float64Array;
}

function formNormal({ values, jacobian }: Residuals, n: number): Normal {
  const information = new Float64Array(n * n);
  const gradient = new Float64Array(n);
  for (let row = 0; row < values.length; row++) {
    for (let i = 0; i < n; i++) {
      const left = jacobian[row * n + i]!;
      if (left === 0) continue;
      gradient[i]! += left * values[row]!;
      for (let j = 0; j < n; j++) information[i * n + j]! += left * jacobian[row * n + j]!;
    }
  }
  return { information, gradient };
}

/** No step gains because rounding is all that is left: the gradient is nothing against the residuals. */
function isFlat(normal: Normal, cost: number, n: number): boolean {
  for (let i = 0; i < n; i++) {
    const slope = Math.abs(normal.gradient[i]!) / Math.sqrt(normal.information[i * n + i]!);
    if (slope > 1e-6 * Math.sqrt(1e-6 + cost)) return false;
  }
  return true;
}

function squareSum(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}
