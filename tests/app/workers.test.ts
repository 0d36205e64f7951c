import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { WorkerLine, type WorkerLike } from '../../src/app/workers.ts';
import type { Call } from '../../src/vision/messages.ts';

class FakeWorker implements WorkerLike {
  onmessage: ((event: MessageEvent) => void) | null = null;
  onerror: ((event: ErrorEvent) => void) | null = null;
  readonly calls: Call<string>[] = [];
  ended = false;
  postMessage(message: unknown) {
    this.calls.push(message as Call<string>);
  }
  terminate() {
    this.ended = true;
  }
  say(reply: unknown) {
    this.onmessage?.({ data: reply } as MessageEvent);
  }
}

let made: FakeWorker[] = [];
const makeLine = () =>
  new WorkerLine<string, number>(() => {
    const worker = new FakeWorker();
    made.push(worker);
    return worker;
  }, 1000);

beforeEach(() => {
  made = [];
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

test('replies resolve the call with the matching number, in any order', async () => {
  const line = makeLine();
  const first = line.ask('a');
  const second = line.ask('b');
  const [worker] = made;
  expect(made.length).toBe(1);
  const [a, b] = worker!.calls;
  worker!.say({ kind: 'end', id: b!.id, outcome: { ok: true, value: 2 } });
  worker!.say({ kind: 'end', id: 999, outcome: { ok: true, value: 3 } });
  worker!.say({ kind: 'end', id: a!.id, outcome: { ok: true, value: 1 } });
  expect(await first).toEqual({ ok: true, value: 1 });
  expect(await second).toEqual({ ok: true, value: 2 });
});

test('progress reaches the asker only', () => {
  const line = makeLine();
  const seen: number[] = [];
  void line.ask('a', (share) => seen.push(share));
  void line.ask('b');
  made[0]!.say({ kind: 'progress', id: made[0]!.calls[0]!.id, share: 0.5 });
  made[0]!.say({ kind: 'progress', id: made[0]!.calls[1]!.id, share: 0.9 });
  expect(seen).toEqual([0.5]);
});

test('a refusal comes back as data', async () => {
  const line = makeLine();
  const answer = line.ask('a');
  const stop = { code: 'not_a_picture', file: 'x.jpg' };
  made[0]!.say({ kind: 'end', id: made[0]!.calls[0]!.id, outcome: { ok: false, stop } });
  expect(await answer).toEqual({ ok: false, stop });
});

test('cancel ends the worker, its calls end without a stop, and the next call starts another', async () => {
  const line = makeLine();
  const answer = line.ask('a');
  line.cancel();
  expect(made[0]!.ended).toBe(true);
  expect(await answer).toEqual({ ok: false, stop: null });
  void line.ask('b');
  expect(made.length).toBe(2);
});

test('Allocation failure: a worker that dies is said to be lost, once for every waiting call', async () => {
  const line = makeLine();
  const answers = [line.ask('a'), line.ask('b')];
  made[0]!.onerror?.({ preventDefault: () => undefined } as ErrorEvent);
  for (const answer of answers) expect(await answer).toEqual({ ok: false, stop: { code: 'worker_lost' } });
  expect(made[0]!.ended).toBe(true);
});

test('Worker start has a time limit: one that does not start in time is given up; one that is ready may take long', async () => {
  const line = makeLine();
  const slow = line.ask('a');
  vi.advanceTimersByTime(1001);
  expect(await slow).toEqual({ ok: false, stop: { code: 'worker_slow' } });
  const long = line.ask('b');
  made[1]!.say({ kind: 'ready' });
  vi.advanceTimersByTime(60_000);
  made[1]!.say({ kind: 'end', id: made[1]!.calls[0]!.id, outcome: { ok: true, value: 4 } });
  expect(await long).toEqual({ ok: true, value: 4 });
});

test('something that cannot be posted is a bug, said as such', async () => {
  const line = new WorkerLine<string, number>(() => {
    const worker = new FakeWorker();
    worker.postMessage = () => {
      throw new Error('DataCloneError');
    };
    return worker;
  });
  expect(await line.ask('a')).toEqual({ ok: false, stop: { code: 'bug', message: 'DataCloneError' } });
});
