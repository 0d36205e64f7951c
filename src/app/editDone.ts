import type { Survey } from '../core/survey.ts';

/**
 * The survey with a step, a mix or a gauge screw ticked off, or no longer so; `id` names it in `lining.done`.
 */
export function setDone(survey: Survey, id: string, isDone: boolean): Survey {
  const { done = [], ...rest } = survey.lining;
  if (done.includes(id) === isDone) return survey;
  const left = isDone ? [...done, id] : done.filter((each) => each !== id);
  return { ...survey, lining: left.length > 0 ? { ...rest, done: left } : rest };
}
