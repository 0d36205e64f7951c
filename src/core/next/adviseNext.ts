import { measureBed } from '../lining/bed.ts';
import { keepLinedNodes } from '../lining/linedNodes.ts';
import type { BedPlane, NextAdvice, NextMeasure, Surface } from '../results.ts';
import type { Kept } from '../solve/solve.ts';
import { listCandidates, type Candidate } from './candidates.ts';
import { formJoint, type JointWall } from './jointWall.ts';
import { findReductions } from './shrink.ts';
import { expectSpots, gatherSpots, weighSpots, type Spots, type Standing } from './spots.ts';

/** So many of each kind, the best over spots as far apart as the joint wall's nodes, are weighed on every node of the surface. */
const FINALISTS = 3;
/**
 * When a next measurement is worth its trouble (common practice, no source): it settles the zone of 0.05 m2, a hand's work with the
 * trowel; or, with less than that in doubt, it lowers a sigma over 1 mm by a tenth.
 */
const WORTH_M2 = 0.05;
const WORTH_SIGMA_MM = 1;
const WORTH_SIGMA_SHARE = 0.1;

/**
 * Where the surface is too badly known for its bed decision and the one next reading or line that would help most: every candidate
 * is weighed by the doubtful area to be expected after it, with the bed plane held.
 * Source: DEVELOPERS.md "Where next".
 */
export function adviseNext(kept: Kept, solved: Surface, plane: BedPlane): NextAdvice {
  const { wall } = kept.survey;
  const surface = keepLinedNodes(solved, wall);
  const joint = formJoint(kept);
  const { grid, scale } = joint.model;
  const bed = measureBed(surface, plane);
  const gather = (stride: number) =>
    gatherSpots(surface, bed, wall, kept.survey.lining.bed, scale.roughMm, grid, stride);
  const all = gather(1);
  const now = weighSpots(all);
  const few = gather(Math.max(1, Math.round(grid.stepMm / surface.stepMm)));
  const aim = now.doubtfulM2 > WORTH_M2 ? 'bed' : 'sigma';
  const measure = (standing: Standing) => (aim === 'bed' ? standing.doubtfulM2 : standing.sigmaRmsMm);
  const ranked = listCandidates(joint, kept)
    .map((candidate) => ({ candidate, worth: measure(weighCandidate(joint, candidate, few)) }))
    .sort((a, b) => a.worth - b.worth);
  const choose = (isOfKind: (candidate: Candidate) => boolean): NextMeasure | null => {
    const finals = ranked
      .filter(({ candidate }) => isOfKind(candidate))
      .slice(0, FINALISTS)
      .map(({ candidate }) => ({ candidate, standing: weighCandidate(joint, candidate, all) }))
      .sort((a, b) => measure(a.standing) - measure(b.standing));
    return finals[0] ? describeMeasure(finals[0]) : null;
  };
  const bestReading = choose(({ kind }) => kind === 'reading');
  const bestLine = choose(({ kind }) => kind !== 'reading');
  const after = (each: NextMeasure) => (aim === 'bed' ? each.doubtfulM2After : each.sigmaRmsAfterMm);
  const [first] = [bestReading, bestLine].filter((each) => each !== null).sort((a, b) => after(a) - after(b));
  const best = first && isWorth(now, first, aim) ? first : null;
  return { ...now, aim, best, bestReading, bestLine, enough: best === null };
}

/** How the spots are expected to stand after a candidate. */
export function weighCandidate(joint: JointWall, candidate: Candidate, spots: Spots): Standing {
  const { covariance, order } = joint;
  const left = findReductions(joint, candidate.rows, candidate.ownCount).map(
    (reduction, node) => 1 - reduction / covariance[node * order + node]!,
  );
  return expectSpots(spots, left);
}

function describeMeasure({
  candidate: { kind, along, up, stretch },
  standing,
}: {
  readonly candidate: Candidate;
  readonly standing: Standing;
}): NextMeasure {
  return {
    kind,
    along,
    up,
    stretch,
    doubtfulM2After: standing.doubtfulM2,
    sigmaRmsAfterMm: standing.sigmaRmsMm,
  };
}

function isWorth(now: Standing, best: NextMeasure, aim: NextAdvice['aim']): boolean {
  if (aim === 'bed') return now.doubtfulM2 - best.doubtfulM2After >= WORTH_M2;
  const isCoarse = now.sigmaRmsMm > WORTH_SIGMA_MM;
  return isCoarse && best.sigmaRmsAfterMm <= (1 - WORTH_SIGMA_SHARE) * now.sigmaRmsMm;
}
