import type { Surface } from '../core/results.ts';
import type { Survey } from '../core/survey.ts';
import type { SurveyAsk, SurveySums } from '../vision/surveyAsk.ts';
import type { Session } from './session.svelte.ts';
import { canSolve, freshness, sameEvidence } from './solved.ts';
import { startSurveyWorker } from './startWorkers.ts';
import type { Stop } from './trouble.ts';
import { WorkerLine, type WorkerLike } from './workers.ts';

/** What is on screen: `results` show the wall as solved, `papers` are taken to it, the others are where evidence is worked on. */
export type Screen = 'results' | 'papers' | 'work';

/** How long the user rests (ms) before a quick result while evidence is worked on, and before a quick one is solved in full. */
const WORK_REST_MS = 300;
const FULL_REST_MS = 1500;

/** The job of solving the survey and planning its lining, in a worker: quickly after each edit, in full when the user rests. */
export class Solving {
  /** Share done (0 to 1) of a full solve or a plan while it runs, else null. */
  share = $state.raw<number | null>(null);
  stop = $state.raw<Stop | null>(null);
  /** Whether a quick result is on its way. */
  quickly = $state.raw(false);
  /** The survey that was last tried without success: not tried again by itself. */
  private tried = $state.raw<Survey | null>(null);
  /** The survey that could not be solved quickly. */
  private unlike = $state.raw<Survey | null>(null);
  private readonly line: WorkerLine<SurveyAsk, SurveySums | null>;
  private rest: ReturnType<typeof setTimeout> | undefined;

  constructor(
    private readonly session: Session,
    start: () => WorkerLike = startSurveyWorker,
  ) {
    this.line = new WorkerLine(start);
  }

  /**
   * Does what is due on a screen, to be called whenever survey, result, job or screen change; a later call supersedes what the one before
   * was waiting for. A job that runs is not broken off, since the next starts from what it leaves; a result that is old when it
   * comes is dropped.
   */
  follow(screen: Screen): void {
    clearTimeout(this.rest);
    const { survey, solved } = this.session;
    if (!survey || this.share !== null || this.quickly || this.tried === survey || !canSolve(survey)) return;
    const state = freshness(solved, survey);
    const working = screen === 'work';
    if (state === 'old' && screen !== 'papers' && this.unlike !== survey)
      this.wait(working ? WORK_REST_MS : 0, () => this.runQuickly());
    else if (!working && state !== 'fresh') this.wait(0, () => this.run());
    else if (!working && solved?.quick) this.wait(screen === 'papers' ? 0 : FULL_REST_MS, () => this.run());
  }

  /** Solves in full (or, when only the lining changed, plans) the survey as it is now. */
  async run(): Promise<void> {
    const { survey, solved } = this.session;
    if (!survey || this.share !== null) return;
    const surface =
      solved && !solved.quick && freshness(solved, survey) === 'replan' ? solved.solution.surface : null;
    this.share = 0;
    this.stop = null;
    await this.ask(survey, surface ? 'plan' : 'solve', surface);
  }

  private async runQuickly(): Promise<void> {
    const { survey } = this.session;
    if (!survey || this.quickly || this.share !== null) return;
    this.quickly = true;
    this.stop = null;
    await this.ask(survey, 'again', null);
  }

  private async ask(survey: Survey, job: SurveyAsk['job'], surface: Surface | null): Promise<void> {
    const { id, solved } = this.session;
    const answer = await this.line.ask({ survey, session: id, job, surface }, (share) => {
      if (job !== 'again') this.share = share;
    });
    if (job === 'again') this.quickly = false;
    else this.share = null;
    if (this.session.id !== id) return;
    const sums = answer.ok ? answer.value : null;
    const solution = sums?.solution ?? (job === 'plan' && sums ? solved?.solution : undefined);
    if (!sums || !solution) {
      this.unlike = survey;
      if (job === 'again') return;
      this.tried = survey;
      this.stop = answer.ok ? null : answer.stop;
      return;
    }
    const now = this.session.survey;
    if (this.session.solved && now && !sameEvidence(survey, now)) return;
    const { plan, next } = sums;
    await this.session.takeSolved({
      stamp: `${Date.now()}-${Math.random().toString(36).slice(2, 8)}`,
      of: survey,
      quick: job === 'again',
      solution,
      plan: plan.ok ? plan.value : null,
      planStop: plan.ok ? null : plan.stop,
      next,
    });
  }

  private wait(ms: number, then: () => Promise<void>): void {
    this.rest = setTimeout(() => void then(), ms);
  }

  /** Ends the job; the result before it, if any, stays and is shown as old. */
  cancel(): void {
    clearTimeout(this.rest);
    this.line.cancel();
  }

  /** Forgets a failed try, so that the next look at a result tries again. */
  forget(): void {
    if (this.share !== null || this.quickly) this.cancel();
    clearTimeout(this.rest);
    this.tried = null;
    this.unlike = null;
    this.stop = null;
  }
}
