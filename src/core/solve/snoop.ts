import { FOCAL_PARAMETER } from '../camera/projection.ts';
import { CRITICAL_W, testLeftOut, testObservation, type ObservationTest } from '../checks/baarda.ts';
import { findResidual, placeOnGrid } from './adjustment.ts';
import { findVariance, invertBordered } from './borderedInverse.ts';
import type { NetworkState } from './linearize.ts';
import { indexLine, indexStation, LINE_UNKNOWNS, STATION_UNKNOWNS, type Network } from './network.ts';
import type { Observation } from './observation.ts';
import { holdPlane } from './plane.ts';
import { nameObservation, settleNetwork, type Settled, type Task } from './settle.ts';

/** An observation with its test. */
export interface TestedObservation {
  readonly observation: Observation;
  readonly about: 'reading' | 'mark' | 'block' | 'stand' | 'sheet';
  readonly name: string;
  readonly test: ObservationTest;
}

/** Marks are many, so their limit is that of 0.006 %: one false alarm in some hundred surveys of 30 marks. */
const CRITICAL_MARK_W = 4;
/** No more than this many are left out: beyond it the evidence as a whole is wrong, and naming more does not help. */
const MOST_LEFT_OUT = 12;
/**
 * A test counts in full from this redundancy on, below it in proportion: where the others hardly check an observation, small faults
 * of the model make a large w.
 */
const ENOUGH_REDUNDANCY = 0.05;
/**
 * A measured stand must be known better by the other evidence than it was measured: below that the wall's relief itself would
 * vote, since a smaller relief is more probable and a camera further aside gives it; below it the test counts by the square of its
 * share. A packer's thickness likewise.
 */
const ENOUGH_STAND_REDUNDANCY = 0.5;
/** Two explanations cannot be told apart when their squared w differ by less than this, odds under 10 to 1 (2 ln 10), or their
 *  w by less than this share, which small faults of the model make of large ones. */
const ALIKE_SQUARE = 4.6;
const ALIKE_SHARE = 0.05;

/** |w| of a test over its limit, less where the others hardly check the observation. */
export function compareToLimit({ about, test }: TestedObservation): number {
  const isApart = about === 'stand' || about === 'block';
  const trust = isApart
    ? Math.min(1, test.redundancy / ENOUGH_STAND_REDUNDANCY) ** 2
    : Math.min(1, test.redundancy / ENOUGH_REDUNDANCY);
  return (trust * Math.abs(test.w)) / (about === 'mark' ? CRITICAL_MARK_W : CRITICAL_W);
}

function failAlike(worst: TestedObservation, other: TestedObservation): boolean {
  const worstW = CRITICAL_W * compareToLimit(worst);
  const w = CRITICAL_W * compareToLimit(other);
  return worstW ** 2 - w ** 2 < ALIKE_SQUARE || w > (1 - ALIKE_SHARE) * worstW;
}

/** What an observation stands alone for and can be wrong in by itself; null where it is not tested. */
export function classify(
  network: Network,
  { kind, subject }: Observation,
): TestedObservation['about'] | null {
  if (kind === 'reading' || kind === 'mark' || kind === 'block') return kind;
  const stations = indexStation(network, 0);
  const lines = indexLine(network, 0);
  if (kind !== 'prior' || subject < stations) return null;
  // a strip's relief belongs to the wall; EXIF's focal length is weak evidence to begin with
  if (subject >= lines) return (subject - lines) % LINE_UNKNOWNS < 2 ? 'sheet' : null;
  return (subject - stations) % STATION_UNKNOWNS === FOCAL_PARAMETER ? null : 'stand';
}

/** Tests every reading, mark, measured stand and sheet of a settled network; those left out against the rest. */
export function testNetwork(task: Task, settled: Settled): TestedObservation[] {
  const { network, leftOut } = task;
  const { adjustment, observations } = settled;
  const inverse = invertBordered(adjustment.factor);
  return observations.flatMap((observation) => {
    const about = classify(network, observation);
    if (about === null) return [];
    const name = nameObservation(observation);
    const { nodes, nodeFactors, unknowns, factors, sigma } = placeOnGrid(adjustment.model, observation);
    const variance = findVariance(inverse, nodes, nodeFactors, unknowns, factors);
    const residual = findResidual(adjustment, observation);
    const test = (leftOut.has(name) ? testLeftOut : testObservation)(residual, sigma, variance);
    return [{ observation, about, name, test }];
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
 * far here or two too near there): they are named together, and each is believed no better than to the error
 * that it would have. What was left out before and now agrees is taken in again. `settle` = how the network is solved each time.
 * Source: Baarda 1968, iterated; Kok 1984, "On data snooping and multiple outlier testing".
 */
export function snoopNetwork(
  task: Task,
  start: NetworkState,
  limitFactor: number,
  rounds: number,
  settle = settleNetwork,
): Snooped {
  let current = task;
  let settled = settle(current, start, rounds);
  let tests = testNetwork(current, settled);
  const back = tests.filter(
    (tested) =>
      current.leftOut.has(tested.name) &&
      !current.leftOut.get(tested.name)!.byHand &&
      !current.leftOut.get(tested.name)!.kept &&
      tested.test.redundancy >= ENOUGH_REDUNDANCY &&
      compareToLimit(tested) < limitFactor,
  );
  for (let failing = back; ; failing = findFailing(current, tests, limitFactor)) {
    if (failing.length > 0) {
      const leftOut = new Map(current.leftOut);
      for (const tested of failing)
        if (current.leftOut.has(tested.name)) leftOut.delete(tested.name);
        // both rows of a mark may fail: the worse one tells
        else if (!leftOut.has(tested.name))
          leftOut.set(tested.name, {
            test: tested.test,
            weight: weighFailed(current, tested, failing.length),
            unsure: tested.about === 'reading' && failing.length > 1,
          });
      current = { ...current, leftOut };
      settled = settle(current, settled.state, rounds, settled.weights);
      tests = testNetwork(current, settled);
    } else if (failing !== back) return { task: current, settled, tests };
  }
}

/** By how many sigmas what fails is loosened: a prior then leaves its unknown to the other evidence, and a photo whose marks
 *  all contradict each other still has a place. */
export const LOOSE_PRIOR = 1000;
const LOOSE_MARK = 10;

/**
 * What a failed observation still counts. A reading nothing; but where it is one of several that may be wrong, or the rest would not
 * hold the wall's plane, as much as if it had the error that explains its failure, v / redundancy = w sigma / sqrt(redundancy).
 */
function weighFailed(
  { network, leftOut }: Task,
  { observation: { kind, subject }, test }: TestedObservation,
  failingCount: number,
): number {
  if (kind === 'prior') return LOOSE_PRIOR ** -2;
  if (kind === 'mark') return LOOSE_MARK ** -2;
  if (kind === 'block') return 0;
  const rest = network.readings.filter((_, k) => k !== subject && !leftOut.has(`reading ${k}`));
  return failingCount > 1 || !holdPlane(rest) ? test.redundancy / test.w ** 2 : 0;
}

/** The worst of the tests that fail, and those that fail about as badly; none when all pass. */
function findFailing(
  { leftOut }: Task,
  tests: readonly TestedObservation[],
  limitFactor: number,
): TestedObservation[] {
  if ([...leftOut.values()].filter(({ byHand }) => !byHand).length >= MOST_LEFT_OUT) return [];
  const sorted = tests
    .filter(({ name }) => !leftOut.has(name))
    .sort((a, b) => compareToLimit(b) - compareToLimit(a));
  const worst = sorted[0];
  if (!worst || compareToLimit(worst) <= limitFactor) return [];
  return sorted.filter((tested) => compareToLimit(tested) > limitFactor && failAlike(worst, tested));
}
