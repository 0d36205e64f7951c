import type { Warning } from '../refusal.ts';
import type { Solution } from '../results.ts';
import type { Survey } from '../survey.ts';
import { changeNetwork } from './changedNetwork.ts';
import { applyCorrections, linearizeNetwork, VAGUE_TREND } from './linearize.ts';
import { dropEdges } from './findSetbacks.ts';
import { Nearby } from './nearby.ts';
import { moveProfiles } from './nearbyProfiles.ts';
import { indexStation, STATION_UNKNOWNS, type Network } from './network.ts';
import type { Observation } from './observation.ts';
import { checkReadings } from './plane.ts';
import type { FailedTest, LeftOut, Settled } from './settle.ts';
import { snoopNetwork, type Snooped } from './snoop.ts';
import { guessOffsets, listHeld, tellSolution, type Kept } from './solve.ts';
import { startNetwork } from './stations.ts';

/** A solve gone on from, with what it leaves to go on from in turn: always from the last full solve. */
export interface Resolved {
  readonly solution: Solution;
  readonly kept: Kept;
}

/** Thrown inside where a network cannot be solved as a change of another. */
class TooFar extends Error {}

/**
 * Solves a survey that differs little from one that was solved: readings, marks, stands, points of lines. State, scale and the factors are those of
 * the last full solve; what is different is a change of them by a few rows, exact for the linear model, and everything is tested anew:
 * what is now wrong is named, what was mended comes back. null where too much is different: solve it afresh.
 * @throws readings_few, readings_in_line
 * Source: DEVELOPERS.md "Solving again"; `Update`.
 */
export function resolveSurvey(last: Kept, survey: Survey): Resolved | null {
  const kept = last.base ?? last;
  const held = listHeld(survey);
  // without readings the trend is held, and the start is another
  if (held.length === 0 || listHeld(kept.survey).length === 0) return null;
  checkReadings(held);
  const { network: before } = kept.coarse.task;
  const changed = changeNetwork(before, kept.survey, survey);
  if (!changed) return null;
  const { setbacks } = kept.coarse.task.model.grid;
  const network = dropEdges(changed, kept.coarse.settled.state, setbacks);
  try {
    const nearby = new Nearby(
      kept.coarse.settled,
      linearizeNetwork(network, kept.coarse.settled.state, VAGUE_TREND),
    );
    if (!nearby.isNear || !startsAlike(kept, network, nearby, survey)) return null;
    const coarse = snoopNearby(kept, network, nearby, survey);
    const final = settleFinely(kept, coarse, nearby.observations);
    const profiles = moveProfiles(
      survey,
      network,
      kept.profiles,
      kept.final,
      final,
      (line) => network.lines[line]!.stretches !== before.lines[line]!.stretches,
    );
    const solution = tellSolution(survey, network, kept.started, { coarse, final, profiles });
    return { solution, kept: { ...kept, survey, coarse, final, profiles, base: kept } };
  } catch (error) {
    if (error instanceof TooFar) return null;
    throw error;
  }
}

/** Whether photos whose marks or stand say something else would take part as they did, and be warned of in the same way. */
function startsAlike(
  kept: Kept,
  { stations, marks, lines }: Network,
  nearby: Nearby,
  survey: Survey,
): boolean {
  const restated = nearby.listRestated();
  const first = indexStation(kept.coarse.task.network, 0);
  const offsetAt = guessOffsets(listHeld(survey));
  return stations.every(({ photos }, station) => {
    const said =
      marks.some((mark, k) => mark.station === station && restated.has(`mark ${k}`)) ||
      STAND_PARAMETERS.some((k) => restated.has(`prior ${first + STATION_UNKNOWNS * station + k}`));
    if (!said) return true;
    const started = startNetwork({ ...survey, photos }, offsetAt);
    const ids = photos.map(({ id }) => id);
    const tell = (warnings: readonly Warning[]) =>
      warnings
        .filter(({ subject }) => ids.includes(subject))
        .map(({ code, subject }) => `${code} ${subject}`)
        .join();
    return (
      started.network.lines.length === lines.filter((line) => line.station === station).length &&
      tell(started.warnings) === tell(kept.started.warnings)
    );
  });
}

/** Along, up and out of a camera (projection.ts). */
const STAND_PARAMETERS = [0, 1, 2];

/** Tests and leaves out, from what the last solve left out. */
function snoopNearby({ coarse }: Kept, network: Network, nearby: Nearby, survey: Survey): Snooped {
  const task = { ...coarse.task, network, leftOut: renewLeftOut(coarse.task.leftOut, nearby, survey) };
  return snoopNetwork(task, coarse.settled.state, 1, 1, (each) => orTooFar(nearby.settle(each)));
}

/**
 * What is left out to begin with: the readings by hand as they are now; not what now says something else, nor, of readings that could not be
 * told apart, any.
 */
function renewLeftOut(leftOut: LeftOut, nearby: Nearby, { readings }: Survey): LeftOut {
  const restated = nearby.listRestated();
  const asked = [...restated].some((name) => leftOut.get(name)?.unsure);
  const renewed = new Map<string, FailedTest>();
  for (const [name, failed] of leftOut)
    if (failed.byHand || !(restated.has(name) || (asked && failed.unsure))) renewed.set(name, failed);
  readings.forEach((reading, k) => {
    const name = `reading ${k}`;
    if (reading.leftOut) renewed.set(name, { test: null, weight: 0, byHand: true });
    else if (renewed.get(name)?.byHand) renewed.delete(name);
  });
  return renewed;
}

/** The surface's own grid, with the weights found on the coarser one. */
function settleFinely(
  { final }: Kept,
  { task, settled }: Snooped,
  observations: readonly Observation[],
): Settled {
  const nearby = new Nearby(final, observations);
  const fine = { ...task, model: final.adjustment.model };
  const last = orTooFar(nearby.settle(fine, settled.weights));
  const { unknowns, offsetAt } = last.adjustment;
  return { ...last, state: applyCorrections(task.network, settled.state, unknowns, offsetAt) };
}

function orTooFar(settled: Settled | null): Settled {
  if (!settled) throw new TooFar('more is different than can be followed');
  return settled;
}
