import type { LiningPlan, Solution, Surface } from '../core/results.ts';
import type { Survey } from '../core/survey.ts';
import type { Outcome } from '../vision/messages.ts';
import type { Session } from './session.svelte.ts';
import { canSolve, freshness } from './solved.ts';
import { startSurveyWorker } from './startWorkers.ts';
import type { Stop } from './trouble.ts';
import { WorkerLine } from './workers.ts';

interface Ask {
  readonly survey: Survey;
  readonly surface: Surface | null;
}

interface Sums {
  readonly solution: Solution | null;
  readonly plan: Outcome<LiningPlan>;
}

/** The job of solving the survey and planning its lining, in a worker. */
export class Solving {
  /** Share done (0 to 1) while it runs, else null. */
  share = $state.raw<number | null>(null);
  stop = $state.raw<Stop | null>(null);
  /** The survey that was last tried without success: not tried again by itself. */
  private tried = $state.raw<Survey | null>(null);
  private line = new WorkerLine<Ask, Sums>(startSurveyWorker);

  /** Whether a screen that shows results should start the job by itself. */
  readonly due = $derived.by(() => {
    const { survey, solved } = this.session;
    if (!survey || this.share !== null || this.tried === survey) return false;
    return canSolve(survey) && freshness(solved, survey) !== 'fresh';
  });

  constructor(private readonly session: Session) {}

  /** Solves (or, when only the lining changed, plans) the survey as it is now. */
  async run(): Promise<void> {
    const { survey, solved, id } = this.session;
    if (!survey || this.share !== null) return;
    const replan = freshness(solved, survey) === 'replan';
    this.share = 0;
    this.stop = null;
    const surface = replan && solved ? solved.solution.surface : null;
    const answer = await this.line.ask({ survey, surface }, (share) => {
      this.share = share;
    });
    this.share = null;
    if (this.session.id !== id) return;
    const solution = answer.ok ? (answer.value.solution ?? solved?.solution) : undefined;
    if (!answer.ok || !solution) {
      this.tried = survey;
      this.stop = answer.ok ? null : answer.stop;
      return;
    }
    const { plan } = answer.value;
    await this.session.takeSolved({
      stamp: `${Date.now()}-${Math.random().toString(36).slice(2, 8)}`,
      of: survey,
      solution,
      plan: plan.ok ? plan.value : null,
      planStop: plan.ok ? null : plan.stop,
    });
  }

  /** Ends the job; the result before it, if any, stays and is shown as old. */
  cancel(): void {
    this.line.cancel();
  }

  /** Forgets a failed try, so that the next look at a result tries again. */
  forget(): void {
    if (this.share !== null) this.cancel();
    this.tried = null;
    this.stop = null;
  }
}
