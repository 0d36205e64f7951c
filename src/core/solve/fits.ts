import { chiSquareQuantile } from '../checks/chiSquare.ts';
import type { Fit } from '../results.ts';
import { findResidual, placeOnGrid } from './adjustment.ts';
import type { BandMatrix } from './banded.ts';
import { findVariance, invertBordered } from './borderedInverse.ts';
import type { Network } from './network.ts';
import type { Observation } from './observation.ts';
import type { Settled, Task } from './settle.ts';
import { classify } from './snoop.ts';

/** Tails (each) beyond which a square sum does not fit its sigmas. */
const TAIL = 0.025;

/**
 * Whether the sigmas fit the residuals: of all evidence and the wall's relief together, and kind by kind. The least sum of squares is
 * chi-square with as many degrees as there are rows (observations, priors, one per node) less unknowns; a kind's degrees are the sum of its
 * redundancies, and what is left of the whole belongs to the lines' points with the relief that they hold.
 * Source: Baarda 1968 (global test); Ghilani & Wolf, Adjustment Computations, 16.7.
 */
export function listFits({ network, model }: Task, { observations, weights, adjustment }: Settled): Fit[] {
  const inverse = invertBordered(adjustment.factor);
  const kinds = new Map<Fit['kind'] | 'other', { count: number; squareSum: number; redundancy: number }>();
  let points = 0;
  let pointSquares = readRelief(model.precision, adjustment.field);
  let rows = 0;
  observations.forEach((observation, index) => {
    const weight = weights[index]!;
    if (weight === 0) return;
    rows++;
    const { nodes, nodeFactors, unknowns, factors, sigma } = placeOnGrid(model, observation);
    const square = weight * (findResidual(adjustment, observation) / sigma) ** 2;
    if (observation.kind === 'point') {
      points++;
      pointSquares += square;
      return;
    }
    const variance = findVariance(inverse, nodes, nodeFactors, unknowns, factors);
    const kind = nameKind(network, observation);
    const sum = kinds.get(kind) ?? { count: 0, squareSum: 0, redundancy: 0 };
    kinds.set(kind, {
      count: sum.count + 1,
      squareSum: sum.squareSum + square,
      redundancy: sum.redundancy + 1 - (weight * variance) / sigma ** 2,
    });
  });
  const others = [...kinds.values()];
  const redundancy = rows - adjustment.unknowns.length;
  const squareSum = others.reduce((sum, each) => sum + each.squareSum, pointSquares);
  const left = others.reduce((sum, each) => sum - each.redundancy, redundancy);
  return [
    judge('all', { count: rows, squareSum, redundancy }),
    ...(points > 0 ? [judge('point', { count: points, squareSum: pointSquares, redundancy: left })] : []),
    ...[...kinds].flatMap(([kind, sum]) => (kind === 'other' ? [] : [judge(kind, sum)])),
  ];
}

function nameKind(network: Network, observation: Observation): Fit['kind'] | 'other' {
  const about = classify(network, observation);
  if (about === 'sheet') return 'line';
  return about === 'reading' || about === 'mark' || about === 'stand' ? about : 'other';
}

function judge(
  kind: Fit['kind'],
  sum: { readonly count: number; readonly squareSum: number; readonly redundancy: number },
): Fit {
  const known = sum.redundancy > 0.5;
  return {
    kind,
    ...sum,
    least: known ? chiSquareQuantile(TAIL, sum.redundancy) : NaN,
    most: known ? chiSquareQuantile(1 - TAIL, sum.redundancy) : NaN,
  };
}

/** x'Qx: how unlikely the relief is by itself. */
function readRelief(precision: BandMatrix, field: Float64Array): number {
  const { n, bandwidth, stride, entries } = precision;
  let sum = 0;
  for (let j = 0; j < n; j++) {
    let column = 0;
    for (let k = 1; k <= Math.min(bandwidth, n - 1 - j); k++)
      column += entries[j * stride + k]! * field[j + k]!;
    sum += field[j]! * (entries[j * stride]! * field[j]! + 2 * column);
  }
  return sum;
}
