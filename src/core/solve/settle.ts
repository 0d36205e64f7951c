import {
  adjust,
  createFieldModel,
  findResidual,
  placeOnGrid,
  type Adjustment,
  type FieldModel,
  type GridRow,
} from './adjustment.ts';
import type { ObservationTest } from '../checks/baarda.ts';
import type { FieldScale } from './field.ts';
import type { Grid } from './grid.ts';
import { applyCorrections, linearizeNetwork, type NetworkState, type TrendPrior } from './linearize.ts';
import { countUnknowns, type Network } from './network.ts';
import type { Observation } from './observation.ts';

/** What is solved, on which grid, with what assumed of the wall, and which observations take no part. */
export interface Task {
  readonly network: Network;
  readonly model: FieldModel;
  readonly trend: TrendPrior;
  /** Observations that take no part, by the names `nameObservation` gives them, with the test that each failed. */
  readonly leftOut: LeftOut;
}

export type LeftOut = ReadonlyMap<string, FailedTest>;

/** A failed test, and the share of its inverse variance that the observation keeps. */
export interface FailedTest {
  /** null = not tested yet, or left out by hand. */
  readonly test: ObservationTest | null;
  readonly weight: number;
  /** Left out by the user, never taken in again. */
  readonly byHand?: boolean;
  /** Found wrong before the wall was known, by what the wall does not tell; never taken in again. */
  readonly kept?: boolean;
  /** One of several that fail alike, of which one is wrong. */
  readonly unsure?: boolean;
}

/** A network solved until its corrections vanish, linearised where it ended. */
export interface Settled {
  readonly state: NetworkState;
  readonly observations: readonly Observation[];
  readonly weights: Float64Array;
  readonly adjustment: Adjustment;
}

/** A task on a grid. */
export function createTask(
  network: Network,
  grid: Grid,
  scale: FieldScale,
  trend: TrendPrior,
  leftOut: LeftOut,
): Task {
  return { network, model: createFieldModel(grid, scale), trend, leftOut };
}

/** Huber's limit in sigmas: beyond it a point's pull no longer grows. Huber 1964; 2.5 keeps 99 % efficiency. */
export const HUBER_LIMIT = 2.5;
/** Settled when no offset on a line moves by more than this (mm) and no weight by more than a twentieth. */
const STILL_MM = 0.02;
const STILL_WEIGHT = 0.05;

/** The name by which an observation is left out: its kind and subject, e.g. "reading 2". */
export function nameObservation(observation: Observation): string {
  return `${observation.kind} ${observation.subject}`;
}

/**
 * Gauss-Newton on the whole network: linearise, solve, correct, with Huber weights on the line's points, at most `rounds`
 * times. The wall found goes into the next round as `out` of the tape marks, k1 and the corrections into the cameras.
 */
export function settleNetwork(
  task: Task,
  start: NetworkState,
  rounds: number,
  startWeights?: Float64Array,
): Settled {
  const { network, model, trend, leftOut } = task;
  const count = countUnknowns(network);
  let state = start;
  let huber = startWeights;
  for (let round = 1; ; round++) {
    const observations = linearizeNetwork(network, state, trend);
    const weights = Float64Array.from(observations, (observation, index) => {
      const failed = leftOut.get(nameObservation(observation));
      if (failed) return failed.weight;
      return observation.kind === 'point' && huber?.length === observations.length ? huber[index]! : 1;
    });
    const rows = observations.map((observation) => placeOnGrid(model, observation));
    const adjustment = adjust(model, observations, weights, count, rows);
    const nextHuber = weighPoints(adjustment, observations, rows);
    const still = isStill(adjustment, observations, weights, nextHuber, leftOut);
    if (still || round >= rounds) return { state, observations, weights, adjustment };
    state = applyCorrections(network, state, adjustment.unknowns, adjustment.offsetAt);
    huber = nextHuber;
  }
}

function weighPoints(
  adjustment: Adjustment,
  observations: readonly Observation[],
  rows: readonly GridRow[],
): Float64Array {
  return Float64Array.from(observations, (observation, index) => {
    if (observation.kind !== 'point') return 1;
    const { sigma } = rows[index]!;
    const size = Math.abs(findResidual(adjustment, observation)) / sigma;
    return size <= HUBER_LIMIT ? 1 : HUBER_LIMIT / size;
  });
}

function isStill(
  { unknowns }: Adjustment,
  observations: readonly Observation[],
  weights: Float64Array,
  nextWeights: Float64Array,
  leftOut: LeftOut,
): boolean {
  return observations.every((observation, index) => {
    if (observation.kind !== 'point') return true;
    if (leftOut.has(nameObservation(observation))) return true;
    let moved = 0;
    observation.unknowns.forEach((q, k) => (moved += observation.factors[k]! * unknowns[q]!));
    return Math.abs(moved) < STILL_MM && Math.abs(nextWeights[index]! - weights[index]!) < STILL_WEIGHT;
  });
}
