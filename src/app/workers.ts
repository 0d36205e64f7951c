import type { Call, Reply } from '../vision/messages.ts';
import type { Stop } from './trouble.ts';

/** How a job given to a worker ended; `stop: null` = the user cancelled it. */
export type Answer<T> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly stop: Stop | null };

/** The part of a Worker that is used, so that a test can stand in for one. */
export interface WorkerLike {
  onmessage: ((event: MessageEvent) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  postMessage(message: unknown): void;
  terminate(): void;
}

interface Waiting<T> {
  readonly end: (answer: Answer<T>) => void;
  readonly progress: ((share: number) => void) | undefined;
}

/** The line to one worker: starts it when first asked, matches replies to calls by number, and cancels by ending it. */
export class WorkerLine<Ask, T> {
  private worker: WorkerLike | null = null;
  private started = false;
  private startTimer: ReturnType<typeof setTimeout> | undefined;
  private lastId = 0;
  private readonly waiting = new Map<number, Waiting<T>>();

  constructor(
    private readonly start: () => WorkerLike,
    private readonly startLimitMs = 60_000,
  ) {}

  /** Asks the worker; always resolves. */
  ask(ask: Ask, progress?: (share: number) => void): Promise<Answer<T>> {
    const id = ++this.lastId;
    return new Promise((end) => {
      this.waiting.set(id, { end, progress });
      try {
        this.connect().postMessage({ id, ask } satisfies Call<Ask>);
      } catch (thrown) {
        this.waiting.delete(id);
        end({
          ok: false,
          stop: { code: 'bug', message: thrown instanceof Error ? thrown.message : String(thrown) },
        });
      }
    });
  }

  /** Ends the worker and every call to it; the next call starts another. */
  cancel(): void {
    this.hangUp(null);
  }

  private connect(): WorkerLike {
    if (this.worker) return this.worker;
    const worker = this.start();
    this.worker = worker;
    this.started = false;
    worker.onmessage = (event: MessageEvent<Reply<T>>) => this.receive(event.data);
    worker.onerror = (event) => {
      event.preventDefault?.();
      this.hangUp({ code: 'worker_lost' });
    };
    this.startTimer = setTimeout(() => {
      if (!this.started) this.hangUp({ code: 'worker_slow' });
    }, this.startLimitMs);
    return worker;
  }

  private receive(reply: Reply<T>): void {
    this.started = true;
    clearTimeout(this.startTimer);
    if (reply.kind === 'ready') return;
    const waiting = this.waiting.get(reply.id);
    if (!waiting) return;
    if (reply.kind === 'progress') return waiting.progress?.(reply.share);
    this.waiting.delete(reply.id);
    waiting.end(reply.outcome);
  }

  private hangUp(stop: Stop | null): void {
    clearTimeout(this.startTimer);
    if (this.worker) {
      this.worker.onmessage = null;
      this.worker.onerror = null;
      this.worker.terminate();
      this.worker = null;
    }
    const ended = [...this.waiting.values()];
    this.waiting.clear();
    for (const { end } of ended) end({ ok: false, stop });
  }
}
