import type { WorkCaution, WorkCode, WorkFigures, WorkStage, WorkStepOf } from '../../liningPlan.ts';
import type { LiningPlan } from '../../results.ts';
import type { Survey } from '../../survey.ts';
import type { LiningSettings } from '../defaults.ts';
import type { Pour } from '../mix/batches.ts';

/** What the order of work is made from: the survey, the plan without it, and what is mixed at one go for what. */
export interface WorkGround {
  readonly survey: Survey;
  readonly plan: Omit<LiningPlan, 'work'>;
  readonly pours: readonly Pour[];
  readonly settings: LiningSettings;
}

/** A step's bare facts; `name` tells it from others of its code. */
interface StepFacts<C extends WorkCode> {
  readonly figures: WorkFigures[C];
  readonly of?: readonly string[];
  readonly cautions?: readonly WorkCaution[];
  readonly name?: string;
}

/** A step of the work, named by its code and what tells it from others of that code. */
export function makeStep<C extends WorkCode>(
  stage: WorkStage,
  code: C,
  { figures, of = [], cautions = [], name }: StepFacts<C>,
): WorkStepOf<C> {
  return { id: name === undefined ? code : `${code}-${name}`, stage, code, of, figures, cautions };
}

/** Whether the plan warns of something, or of something about one of its parts. */
export function isWarned(
  { warnings }: Pick<LiningPlan, 'warnings'>,
  code: LiningPlan['warnings'][number]['code'],
  subject?: string,
): boolean {
  return warnings.some((each) => each.code === code && (subject === undefined || each.subject === subject));
}

/** The ids of some parts of a plan, in their order. */
export const idsOf = (items: readonly { readonly id: string }[]): string[] => items.map(({ id }) => id);
