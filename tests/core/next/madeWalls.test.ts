import { beforeAll, expect, test } from 'vitest';
import { measureBed } from '../../../src/core/lining/bed.ts';
import { adviseNext } from '../../../src/core/next/adviseNext.ts';
import { formJoint } from '../../../src/core/next/jointWall.ts';
import { expectSpots, gatherSpots } from '../../../src/core/next/spots.ts';
import type { NextAdvice, NextMeasure } from '../../../src/core/results.ts';
import { solveAndKeep, solveSurvey } from '../../../src/core/solve/solve.ts';
import { makeSurvey } from '../../truth/survey.ts';
import { wallKinds } from '../../truth/wall.ts';
import { takeNext, weighSolution } from './taken.ts';
import { findBedPlane } from './wallPlane.ts';

const small = { width: 2400, height: 1800, everyPx: 12 } as const;
type Place = Pick<NextMeasure, 'kind' | 'along' | 'up'>;
type Weight = ReturnType<typeof weighSolution>;

/** What else one might do next: the lines that halve the gaps, and one where there is one already. */
const alternatives: readonly Place[] = [
  { kind: 'level', along: 1200, up: 900 },
  { kind: 'plumb', along: 600, up: 900 },
  { kind: 'plumb', along: 1300, up: 900 },
];

interface Tried {
  readonly next: NextAdvice;
  /** What was advised and taken: the line, of every other wall the reading. */
  readonly measure: NextMeasure;
  readonly came: Weight;
}

const tried: Tried[] = [];
const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;
const median = (values: readonly number[]) => [...values].sort((a, b) => a - b)[values.length >> 1]!;

// ten walls, each measured a little, then solved anew with what was advised really taken
beforeAll(() => {
  for (let seed = 1; seed <= 10; seed++) {
    const made = makeSurvey(seed, wallKinds[seed % wallKinds.length]!, {
      ...small,
      levels: [400, 1400],
      plumbs: [1200],
    });
    const { solution, kept } = solveAndKeep(made.survey);
    const bedPlane = findBedPlane(made.survey, solution.surface);
    const next = adviseNext(kept, solution.surface, bedPlane);
    const take = (place: Place) => {
      const survey = takeNext(made, seed + 500, place, small);
      return weighSolution(survey, solveSurvey(survey), bedPlane);
    };
    const measure = seed % 2 === 0 ? next.bestReading! : next.bestLine!;
    tried.push({ next, measure, came: take(measure) });
  }
}, 300_000);

test('the doubt that is left is as foretold on average, not more and not less', () => {
  const off = tried.map(({ measure, came }) => came.doubtfulM2 - measure.doubtfulM2After);
  const middle = mean(off);
  const error = Math.sqrt(mean(off.map((each) => (each - middle) ** 2)) / (off.length - 1));
  expect(Math.abs(middle)).toBeLessThan(3 * error);
  // and that says something: the error is less than what a line is foretold to bring
  const foretold = mean(tried.map(({ next }) => next.doubtfulM2 - next.bestLine!.doubtfulM2After));
  expect(error).toBeLessThan(foretold);
});

test('sigma falls as foretold, though the scale of the wall is estimated anew', () => {
  const foretold = tried.map(({ next, measure }) => next.sigmaRmsMm - measure.sigmaRmsAfterMm);
  const fell = tried.map(({ next, came }) => next.sigmaRmsMm - came.sigmaRmsMm);
  expect(mean(fell) / mean(foretold)).toBeGreaterThan(0.65);
  expect(mean(fell) / mean(foretold)).toBeLessThan(1.55);
});

// the mean that a measurement will find is chance, which a few walls do not average out: what it would be is foretold again, from
// the variances that a solve with the photograph really taken has, the wall's scale held as it was
test('what was advised leaves less doubt, once it is photographed, than what else one might have done', () => {
  for (const seed of [2, 3]) {
    const made = makeSurvey(seed, wallKinds[seed]!, { ...small, levels: [400], plumbs: [] });
    const { solution, kept } = solveAndKeep(made.survey);
    const { survey, coarse } = kept;
    const bedPlane = findBedPlane(survey, solution.surface);
    const next = adviseNext(kept, solution.surface, bedPlane);
    const joint = formJoint(kept);
    const { scale, grid } = joint.model;
    const bed = measureBed(solution.surface, bedPlane);
    const spots = gatherSpots(solution.surface, bed, survey.wall, survey.lining.bed, scale.roughMm, grid);
    const tryLine = (place: Place) => {
      const taken = solveAndKeep(takeNext(made, seed + 500, place, small)).kept;
      const model = { ...taken.coarse.task.model, scale: coarse.task.model.scale };
      const task = { ...taken.coarse.task, model };
      const { covariance, order } = formJoint({ ...taken, coarse: { ...taken.coarse, task } });
      const left = Float64Array.from(
        { length: joint.nodes },
        (_, node) => covariance[node * order + node]! / joint.covariance[node * joint.order + node]!,
      );
      return expectSpots(spots, left).doubtfulM2;
    };
    const advised = tryLine(next.bestLine!);
    expect(advised).toBeLessThan(next.doubtfulM2);
    expect(advised / next.bestLine!.doubtfulM2After).toBeGreaterThan(0.95);
    expect(advised / next.bestLine!.doubtfulM2After).toBeLessThan(1.05);
    expect(advised).toBeLessThanOrEqual(1.01 * median(alternatives.map(tryLine)));
  }
}, 300_000);
