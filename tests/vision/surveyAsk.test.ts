import { expect, test } from 'vitest';
import type { ProgrammeSolver } from '../../src/core/lining/programme.ts';
import type { Survey } from '../../src/core/survey.ts';
import { SurveyAnswers, type SurveyAsk } from '../../src/vision/surveyAsk.ts';
import { makeCase, windowWall } from '../core/lining/walls.ts';
import { solver } from '../solver.ts';

const { survey, surface } = makeCase({ ...windowWall, stepMm: 100 });

/** Answers with a count of the programmes solved, and what is asked of them: a plan of the same surface. */
function startAnswers() {
  let calls = 0;
  const counted: ProgrammeSolver = (programme, limits) => {
    calls++;
    return solver(programme, limits);
  };
  const answers = new SurveyAnswers(Promise.resolve(counted));
  const plan = async (asked: Survey) => {
    calls = 0;
    const ask: SurveyAsk = { survey: asked, session: 's', job: 'plan', surface };
    const sums = await answers.answer(ask, () => undefined);
    if (!sums?.plan.ok) throw new Error('expected a plan');
    return { plan: sums.plan.value, calls };
  };
  return plan;
}
const withLining = (change: Partial<Survey['lining']>) => ({
  ...survey,
  lining: { ...survey.lining, ...change },
});

test('a screw as set, another start: the plan as made afresh, without looking at the high spots again', async () => {
  const plan = startAnswers();
  const first = await plan(survey);
  expect(first.plan.hackOptions.length).toBeGreaterThan(1);
  const changed = withLining({ asBuilt: [{ screw: 'A1', projection: 14 }], start: 'right' });
  const again = await plan(changed);
  const afresh = await startAnswers()(changed);
  expect(again.plan).toEqual(afresh.plan);
  expect(again.calls).toBeLessThan(afresh.calls / 2);
});

test('another least bed, a wish, a spot picked: the high spots are looked at again', async () => {
  const plan = startAnswers();
  await plan(survey);
  const changes = [
    { bed: { ...survey.lining.bed, min: 8 } },
    { plane: { sigmas: 1 } },
    { hackOff: [{ along: 900, up: 0 }] },
    { settings: { hackRadiusMm: 200 } },
  ];
  for (const change of changes) {
    const changed = withLining(change);
    const again = await plan(changed);
    expect(again.plan).toEqual((await startAnswers()(changed)).plan);
  }
});
