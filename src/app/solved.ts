import type { LiningPlan, NextAdvice, Solution } from '../core/results.ts';
import type { Lining, Survey } from '../core/survey.ts';
import type { Stop } from './trouble.ts';

/** A result and the survey it was made of. */
export interface Solved {
  readonly stamp: string;
  readonly of: Survey;
  /** Whether it is a small change of an earlier solve, soon to be replaced by a full one; not kept, and no paper is made of it. */
  readonly quick: boolean;
  readonly solution: Solution;
  readonly plan: LiningPlan | null;
  readonly planStop: Stop | null;
  /** What to measure next; null where it is not known: no plan, or the lining changed after the page was opened anew. */
  readonly next: NextAdvice | null;
}

/** Whether two values of a survey say the same about the wall: the parts are immutable, so the same part is the same object. */
export function sameEvidence(a: Survey, b: Survey): boolean {
  return a.wall === b.wall && a.readings === b.readings && a.photos === b.photos && a.phones === b.phones;
}

/** Whether two linings ask for the same plan: ticking off what is done changes none of it. */
function samePlan(a: Lining, b: Lining): boolean {
  const names = new Set([...Object.keys(a), ...Object.keys(b)] as (keyof Lining)[]);
  return [...names].every((name) => name === 'done' || a[name] === b[name]);
}

/** Whether a result is of the survey as it is now: `old` = the evidence changed, `replan` = only the lining did. */
export function freshness(solved: Solved | null, survey: Survey): 'none' | 'old' | 'replan' | 'fresh' {
  if (!solved) return 'none';
  if (!sameEvidence(solved.of, survey)) return 'old';
  return samePlan(solved.of.lining, survey.lining) ? 'fresh' : 'replan';
}

/** Whether there is anything to make a surface from; the solver itself says so when it is too little. */
export function canSolve(survey: Survey): boolean {
  return (
    survey.readings.length >= 3 ||
    survey.photos.some((photo) => photo.lines.some((line) => line.points.length > 0))
  );
}
