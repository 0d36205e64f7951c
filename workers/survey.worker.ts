import { planLining } from '../src/core/lining/planLining.ts';
import type { LiningPlan } from '../src/core/results.ts';
import { solveSurvey } from '../src/core/solve/solve.ts';
import type { Surface } from '../src/core/results.ts';
import type { Survey } from '../src/core/survey.ts';
import { outcomeOfError, type Outcome } from '../src/vision/messages.ts';
import { answerCalls } from './answer.ts';

const planOutcome = (survey: Survey, surface: Surface): Outcome<LiningPlan> => {
  try {
    return { ok: true, value: planLining(survey, surface) };
  } catch (thrown) {
    return outcomeOfError(thrown);
  }
};

// a wall that is solved stays solved although nothing of it can be lined; `surface` given = only the lining changed
answerCalls(({ survey, surface }: { survey: Survey; surface: Surface | null }, progress) => {
  const solution = surface ? null : solveSurvey(survey, (share) => progress(share * 0.9));
  return { solution, plan: planOutcome(survey, surface ?? solution!.surface) };
});
