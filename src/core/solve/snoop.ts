import { FOCAL_PARAMETER } from '../camera/projection.ts';
import { CRITICAL_W, testLeftOut, testObservation, type ObservationTest } from '../checks/baarda.ts';
import { findResidual, placeOnGrid } from './adjustment.ts';
import { findVariance, invertBordered } from './bordered.ts';
import type { NetworkState } from './linearize.ts';
import { indexLine, indexStation, LINE_UNKNOWNS, STATION_UNKNOWNS, type Network } from './network.ts';
import type { Observation } from './observation.ts';
import { holdPlane } from './plane.ts';
import { nameObservation, settleNetwork, type Settled, type Task } from './settle.ts';

/** An observation with its test. */
export interface TestedObservation {
  readonly observation: Observation;
  readonly name: string;
  readonly test: ObservationTest;
}

/** Marks are many, so their limit is that of 0.006 %: one false alarm in some hundred surveys of 30 marks. */
const CRITICAL_MARK_W = 4;
/** No more than this many are left out: beyond it the evidence as a whole is wrong, and naming more does not help. */
const MOST_LEFT_OUT = 12;
/** An observation that the others hardly check is not left out on their word: small faults of the model would decide. */
const LEAST_REDUNDANCY = 0.05;
/**
 * A measured stand or a sheet's height is freed only where the other evidence knows it better than it was measured: below
 * that the wall's relief itself would vote, since a smaller relief is more probable and a camera further aside gives it.
 */
const LEAST_PRIOR_REDUNDANCY = 0.5;
/** Two explanations whose squared w differ by less than this cannot be told apart: odds under 10 to 1 (2 ln 10). */
const ALIKE_SQUARE = 4.6;

/** |w| of a test over its limit; 0 where the others hardly check the observation. */
export function compareToLimit({ observation, test }: TestedObservation): number {
  const least = observation.kind === 'prior' ? LEAST_PRIOR_REDUNDANCY : LEAST_REDUNDANCY;
  if (test.redundancy < least) return 0;
  return Math.abs(test.w) / (observation.kind === 'mark' ? CRITICAL_MARK_W : CRITICAL_W);
}

/** Whether an observation stands alone and can be wrong by itself: readings, marks, measured stands, sheets of light. */
function isTested(network: Network, { kind, subject }: Observation): boolean {
  if (kind !== 'prior') return kind === 'reading' || kind === 'mark';
  const stations = indexStation(network, 0);
  const lines = indexLine(network, 0);
  // EXIF's focal length is weak evidence to begin with, a strip's relief belongs to the wall
  if (subject >= lines) return (subject - lines) % LINE_UNKNOWNS < 2;
  return subject >= stations && (subject - stations) % STATION_UNKNOWNS !== FOCAL_PARAMETER;
}

/** Tests every reading, mark, measured stand and sheet of a settled network; those left out against the rest. */
export function testNetwork(task: Task, settled: Settled): TestedObservation[] {
  const { network, leftOut } = task;
  const { adjustment, observations } = settled;
  const inverse = invertBordered(adjustment.factor);
  return observations
    .filter((observation) => isTested(network, observation))
    .map((observation) => {
      const name = nameObservation(observation);
      const { nodes, nodeFactors, unknowns, factors, sigma } = placeOnGrid(adjustment.model, observation);
      const variance = findVariance(inverse, nodes, nodeFactors, unknowns, factors);
      const residual = findResidual(adjustment, observation);
      const test = (leftOut.has(name) ? testLeftOut : testObservation)(residual, sigma, variance);
      return { observation, name, test };
    });
}

/** What snooping leaves: the task with what is left out, its network settled, and the tests of all. */
export interface Snooped {
  readonly task: Task;
  readonly settled: Settled;
  readonly tests: readonly TestedObservation[];
}

/**
 * Data snooping: while some test fails by more than `limitFactor` times its limit, leaves out the worst and settles again.
 * Observations that fail about as badly as the worst cannot be told from it (one curvature of the wall may be a reading too
 * far here or two too near there): they are left out, and named, together. What was left out before and now agrees is taken in again.
 * Source: Baarda 1968, iterated; Kok 1984, "On data snooping and multiple outlier testing".
 */
export function snoopNetwork(task: Task, start: NetworkState, limitFactor: number, rounds: number): Snooped {
  let current = task;
  let settled = settleNetwork(current, start, rounds);
  let tests = testNetwork(current, settled);
  const back = tests.filter(
    (tested) => current.leftOut.has(tested.name) && compareToLimit(tested) < limitFactor,
  );
  for (let failing = back; ; failing = findFailing(current, tests, limitFactor)) {
    if (failing.length > 0) {
      const leftOut = new Map(current.leftOut);
      for (const { name, test } of failing) if (!leftOut.delete(name)) leftOut.set(name, test);
      current = { ...current, leftOut };
      settled = settleNetwork(current, settled.state, rounds, settled.weights);
      tests = testNetwork(current, settled);
    } else if (failing !== back) return { task: current, settled, tests };
  }
}

/** The worst of the tests that fail, and those that fail about as badly; none when all pass. */
function findFailing(
  { network, leftOut }: Task,
  tests: readonly TestedObservation[],
  limitFactor: number,
): TestedObservation[] {
  if (leftOut.size >= MOST_LEFT_OUT) return [];
  const sorted = tests
    .filter(({ name }) => !leftOut.has(name))
    .sort((a, b) => compareToLimit(b) - compareToLimit(a));
  const worst = sorted[0];
  if (!worst || compareToLimit(worst) <= limitFactor) return [];
  const failing = sorted.filter(
    (tested) => compareToLimit(tested) > limitFactor && worst.test.w ** 2 - tested.test.w ** 2 < ALIKE_SQUARE,
  );
  const kept = network.readings.filter(
    (_, k) => !leftOut.has(`reading ${k}`) && !failing.some(({ name }) => name === `reading ${k}`),
  );
  // a wall needs its three readings: rather a doubtful plane, named, than none
  return holdPlane(kept) ? failing : failing.filter(({ observation }) => observation.kind !== 'reading');
}
