import type { AnswerTo, SentAsk, VisionAsk } from '../vision/ask.ts';
import { startVisionWorker } from './startWorkers.ts';
import { WorkerLine, type Answer, type WorkerLike } from './workers.ts';

/** The line to the worker that looks at photographs: one ask after the other, so that one picture is in memory at a time. */
export class VisionLine {
  private readonly line: WorkerLine<SentAsk<Blob>, unknown>;
  private last: Promise<unknown> = Promise.resolve();
  private turn = 0;
  private waiting = 0;

  constructor(start: () => WorkerLike = startVisionWorker) {
    this.line = new WorkerLine(start);
  }

  /** Asks about a photograph when those asked before are answered; always resolves, `stop: null` when given up. */
  ask<A extends VisionAsk>(
    ask: A,
    picture: Omit<SentAsk<Blob>, 'ask'>,
    progress?: (share: number) => void,
  ): Promise<Answer<AnswerTo<A>>> {
    const { turn } = this;
    this.waiting++;
    const answer = this.last.then(() =>
      turn === this.turn
        ? this.line.ask({ ask, ...picture }, progress)
        : ({ ok: false, stop: null } as const),
    );
    this.last = answer.then(() => {
      if (turn === this.turn) this.waiting--;
    });
    return answer as Promise<Answer<AnswerTo<A>>>;
  }

  /** A job is done: ends the worker unless something else is asked, since its wasm heap never shrinks. */
  rest(): void {
    void this.last.then(() => {
      if (this.waiting === 0) this.line.cancel();
    });
  }

  /** Gives up everything asked and ends the worker; the next ask starts another. */
  cancel(): void {
    this.turn++;
    this.waiting = 0;
    this.line.cancel();
  }
}
