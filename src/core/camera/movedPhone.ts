import { chiSquare999 } from './chiSquare.ts';
import { evaluateForm, invertSymmetric } from './dense.ts';
import type { Evidence } from './evidence.ts';
import type { Residuals } from './levenbergMarquardt.ts';

/** How plainly one photo of an unmoved phone was taken with the phone turned otherwise: its test over the test's limit, 1 = just so. */
export interface MovedPhoto {
  readonly photo: string;
  readonly overLimit: number;
}

/** The camera's parameters that a knock changes: its rotation vector. */
const TURNS = [3, 4, 5] as const;
/** A pivot under this: the photo's marks do not tell a turn of it from one of the whole. */
const LEAST_PIVOT = 1e-6;

/**
 * Of each photo of one unmoved phone whether its marks are those of a phone turned against the others, as when it was knocked in between:
 * Baarda's test of the hypothesis "this photo has a rotation of its own", v^T C (C^T Qvv C)^-1 C^T v with C the derivatives of its
 * marks by the rotation, chi-square of three. It sees what is too small in each mark by itself. Plainest first; empty where all marks
 * are of one photo. `inverse` = (J^T J)^-1, all in units of the sigmas.
 * Source: Baarda 1968, "A testing procedure for use in geodetic networks" (alternative hypotheses of several dimensions; from memory).
 */
export function testMoved(
  { photo, priors, blocks }: Pick<Evidence, 'photo' | 'priors' | 'blocks'>,
  { values, jacobian }: Residuals,
  inverse: Float64Array,
): MovedPhoto[] {
  const owners = photo.marks.map(({ of }) => of?.photo ?? photo.id);
  const names = [...new Set(owners)];
  if (names.length < 2) return [];
  const n = jacobian.length / (2 * owners.length + priors.length + blocks.length);
  const size = TURNS.length;
  const testTurn = (name: string): number => {
    const own = new Float64Array(size);
    const square = new Float64Array(size * size);
    const across = TURNS.map(() => new Float64Array(n));
    owners.forEach((owner, mark) => {
      if (owner !== name) return;
      for (const row of [2 * mark, 2 * mark + 1])
        TURNS.forEach((turn, a) => {
          const c = jacobian[row * n + turn]!;
          own[a]! += c * values[row]!;
          TURNS.forEach((other, b) => (square[a * size + b]! += c * jacobian[row * n + other]!));
          for (let k = 0; k < n; k++) across[a]![k]! += c * jacobian[row * n + k]!;
        });
    });
    for (let a = 0; a < size; a++)
      for (let b = 0; b < size; b++) {
        const sum = across[a]!.map((value, k) => value + across[b]![k]!);
        const less = across[a]!.map((value, k) => value - across[b]![k]!);
        square[a * size + b]! -= (evaluateForm(inverse, n, sum) - evaluateForm(inverse, n, less)) / 4;
      }
    const weight = invertSymmetric(square, size, LEAST_PIVOT);
    return weight ? evaluateForm(weight, size, own) / chiSquare999(size) : 0;
  };
  return names
    .map((name) => ({ photo: name, overLimit: testTurn(name) }))
    .sort((a, b) => b.overLimit - a.overLimit);
}
