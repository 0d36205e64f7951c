import { planLining, standingOf } from '../core/lining/planLining.ts';
import type { Progress, ProgrammeSolver } from '../core/lining/programme.ts';
import { adviseNext } from '../core/next/adviseNext.ts';
import type { HackOption } from '../core/liningPlan.ts';
import type { LiningPlan, NextAdvice, Solution, Surface } from '../core/results.ts';
import { resolveSurvey } from '../core/solve/resolve.ts';
import { solveAndKeep, type Kept } from '../core/solve/solve.ts';
import type { Survey } from '../core/survey.ts';
import { outcomeOfError, type Outcome } from './messages.ts';

/** What the page asks of a survey. */
export interface SurveyAsk {
  readonly survey: Survey;
  /** The id of the survey on the device: a solve is gone on from only within the same one. */
  readonly session: string | null;
  /** `solve` = afresh; `again` = quickly, as a small change of the last solve; `plan` = only the lining changed. */
  readonly job: 'solve' | 'again' | 'plan';
  /** The surface that a plan is made on. */
  readonly surface: Surface | null;
}

/** What comes back; `solution` null where only the lining was planned. */
export interface SurveySums {
  readonly solution: Solution | null;
  readonly plan: Outcome<LiningPlan>;
  readonly next: NextAdvice | null;
}

/** Answers what is asked of surveys, with the last solve kept to go on from. */
export class SurveyAnswers {
  private last: { readonly session: string | null; readonly surface: Surface; readonly kept: Kept } | null =
    null;

  /** The last plan's costly parts, for a change that leaves the boards' plane where it is. */
  private planned: {
    readonly standing: string;
    readonly surface: Surface;
    readonly hackOptions: readonly HackOption[];
    readonly next: NextAdvice | null;
  } | null = null;

  /** `solver`: started meanwhile; only a plan waits for it. */
  constructor(private readonly solver: Promise<ProgrammeSolver>) {}

  /** null = this cannot be done quickly. @throws as `solveSurvey` */
  async answer(ask: SurveyAsk, progress: (share: number) => void): Promise<SurveySums | null> {
    const { survey, session, job } = ask;
    if (job === 'plan' && ask.surface) return this.plan(survey, ask.surface, null, progress);
    const solved =
      job === 'again'
        ? this.last?.session === session
          ? resolveSurvey(this.last.kept, survey)
          : null
        : solveAndKeep(survey, (share) => progress(share * 0.85));
    if (!solved) return null;
    const { solution, kept } = solved;
    this.last = { session, surface: solution.surface, kept };
    if (job === 'again') {
      // what hacking off would give is left to the full plan that follows
      const plan = planOutcome(survey, solution.surface, await this.solver, undefined, []);
      return { solution, plan, next: null };
    }
    return this.plan(survey, solution.surface, solution, progress);
  }

  private async plan(
    survey: Survey,
    surface: Surface,
    solution: Solution | null,
    progress: (share: number) => void,
  ): Promise<SurveySums> {
    const from = solution ? 0.85 : 0;
    const standing = standingOf(survey);
    const before = this.planned;
    const known = before?.standing === standing && isSame(before.surface, surface) ? before : null;
    // a wall that is solved stays solved although nothing of it can be lined
    const plan = planOutcome(
      survey,
      surface,
      await this.solver,
      (share) => progress(from + share * (0.95 - from)),
      known?.hackOptions,
    );
    const { last } = this;
    const fresh = last && plan.ok && isSame(last.surface, surface) ? { ...last.kept, survey } : null;
    const next = known?.next ?? (fresh && plan.ok ? adviseNext(fresh, surface, plan.value.bedPlane) : null);
    if (plan.ok) this.planned = { standing, surface, hackOptions: plan.value.hackOptions, next };
    return { solution, plan, next };
  }
}

const isSame = (a: Surface, b: Surface) =>
  a.out.length === b.out.length &&
  a.out.every((each, k) => Object.is(each, b.out[k]) && Object.is(a.sigma[k], b.sigma[k]));

function planOutcome(
  survey: Survey,
  surface: Surface,
  solver: ProgrammeSolver,
  progress?: Progress,
  known?: readonly HackOption[] | null,
): Outcome<LiningPlan> {
  try {
    return { ok: true, value: planLining(survey, surface, solver, progress, known) };
  } catch (thrown) {
    return outcomeOfError(thrown);
  }
}
