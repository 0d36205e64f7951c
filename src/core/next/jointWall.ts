import { adjust, createFieldModel, placeOnGrid, type FieldModel } from '../solve/adjustment.ts';
import { solveBordered } from '../solve/bordered.ts';
import { createGrid, indexNode } from '../solve/grid.ts';
import { countUnknowns, indexStation } from '../solve/network.ts';
import { holdUnknown, listTrendFactors, TREND, type Observation } from '../solve/observation.ts';
import type { Kept } from '../solve/solve.ts';

/**
 * What a solve knows of the wall and the lenses together: the full covariance (order x order, mm and lens terms) of the offsets at all
 * nodes of a coarse grid, in the solver's order, and after them of the phones' lenses in the order of their unknowns.
 */
export interface JointWall {
  readonly model: FieldModel;
  readonly nodes: number;
  readonly order: number;
  readonly covariance: Float64Array;
}

/** Steps (mm) to choose from, and the number of nodes that a joint covariance is formed of: its cost grows with the square. */
const STEPS_MM = [100, 150, 200, 250, 300, 400, 500];
const MOST_NODES = 900;
/** Without readings distance, turn and lean are held where they were found, as the surface's own solve does. */
const HELD_SIGMA = 1e-3;
const HELD_TREND = 3;

/** The step (mm) of the grid that what comes next is weighed on. @example chooseStep({ width: 3600, height: 2450 }) // 150 */
export function chooseStep({ width, height }: { readonly width: number; readonly height: number }): number {
  const count = (step: number) => (Math.ceil(width / step) + 1) * (Math.ceil(height / step) + 1);
  return STEPS_MM.find((step) => count(step) <= MOST_NODES) ?? STEPS_MM.at(-1)!;
}

/** Observations that hold the trend where nothing else does: in a survey without readings. */
function holdTrend({ coarse }: Kept): Observation[] {
  const { task, settled } = coarse;
  if (!task.network.readings.every((reading) => reading.leftOut)) return [];
  return Array.from({ length: HELD_TREND }, (_, k) =>
    holdUnknown(k, settled.adjustment.unknowns[k]!, HELD_SIGMA),
  );
}

/**
 * The joint covariance of a solved wall on a coarse grid, from the observations of the kept solve as linearised where it ended
 * and with the weights it ended with: columns of the inverse of the normal equations.
 * Source: DEVELOPERS.md "Where next"; Rue & Held 2005, Gaussian Markov Random Fields, 2.3.
 */
export function formJoint(kept: Kept, stepMm = chooseStep(kept.survey.wall)): JointWall {
  const { task, settled } = kept.coarse;
  const { network } = task;
  const model = createFieldModel(createGrid(task.model.grid.wall, stepMm), task.model.scale);
  const held = holdTrend(kept);
  const weights = Float64Array.from([...settled.weights, ...held.map(() => 1)]);
  const { factor } = adjust(model, [...settled.observations, ...held], weights, countUnknowns(network));
  const { grid } = model;
  const nodes = grid.nx * grid.ny;
  const lenses = indexStation(network, 0) - TREND;
  const order = nodes + lenses;
  const trends = listNodeTrends(model);
  const covariance = new Float64Array(order * order);
  const x = new Float64Array(nodes);
  const y = new Float64Array(factor.m);
  for (let row = 0; row < order; row++) {
    x.fill(0);
    y.fill(0);
    if (row < nodes) {
      x[row] = 1;
      for (let k = 0; k < TREND; k++) y[k] = trends[row * TREND + k]!;
    } else y[TREND + row - nodes] = 1;
    solveBordered(factor, x, y);
    const from = row * order;
    const [y0, y1, y2, y3] = [y[0]!, y[1]!, y[2]!, y[3]!];
    for (let node = 0, at = 0; node < nodes; node++, at += TREND)
      covariance[from + node] =
        x[node]! + y0 * trends[at]! + y1 * trends[at + 1]! + y2 * trends[at + 2]! + y3 * trends[at + 3]!;
    covariance.set(y.subarray(TREND, TREND + lenses), from + nodes);
  }
  return { model, nodes, order, covariance };
}

/** The trend's factors at every node, in the solver's order. */
function listNodeTrends({ grid }: FieldModel): Float64Array {
  const trends = new Float64Array(grid.nx * grid.ny * TREND);
  for (let i = 0; i < grid.nx; i++)
    for (let j = 0; j < grid.ny; j++)
      trends.set(listTrendFactors(i * grid.stepMm, j * grid.stepMm), TREND * indexNode(grid, i, j));
  return trends;
}

/** A measurement still to be made: factors on the joint wall's nodes and lenses, and on unknowns of its own; sigma of its noise. */
export interface JointRow {
  readonly at: readonly number[];
  readonly factors: readonly number[];
  readonly own: readonly number[];
  readonly ownFactors: readonly number[];
  readonly sigma: number;
}

/**
 * An observation as a row on the joint wall. `place` says of each of its unknowns which of the joint's or its own it is (own ones
 * as -1 - index).
 */
export function rowOf(
  { model }: JointWall,
  observation: Observation,
  place: (unknown: number) => number,
): JointRow {
  const { nodes, nodeFactors, sigma } = placeOnGrid(model, observation);
  const at = [...nodes];
  const factors = [...nodeFactors];
  const own: number[] = [];
  const ownFactors: number[] = [];
  observation.unknowns.forEach((unknown, k) => {
    const index = place(unknown);
    (index < 0 ? own : at).push(index < 0 ? -1 - index : index);
    (index < 0 ? ownFactors : factors).push(observation.factors[k]!);
  });
  return { at, factors, own, ownFactors, sigma };
}
