import { expect, test } from 'vitest';
import { VisionLine } from '../../src/app/visionLine.ts';
import type { WorkerLike } from '../../src/app/workers.ts';

/** A worker that answers when told to. */
class SlowWorker implements WorkerLike {
  onmessage: ((event: MessageEvent) => void) | null = null;
  onerror: ((event: ErrorEvent) => void) | null = null;
  readonly asked: number[] = [];
  ended = false;
  postMessage(message: unknown): void {
    this.asked.push((message as { id: number }).id);
  }
  terminate(): void {
    this.ended = true;
  }
  answer(): void {
    const id = this.asked.at(-1);
    const data = { kind: 'end', id, outcome: { ok: true, value: [] } };
    this.onmessage?.({ data } as MessageEvent);
  }
}

const settle = () => new Promise((resolve) => setTimeout(resolve));
const picture = { blob: new Blob(['x']), file: 'a.jpg' };
const ask = { kind: 'propose', masks: [] } as const;

test('one picture at a time: the next is sent when the one before is answered', async () => {
  const worker = new SlowWorker();
  const line = new VisionLine(() => worker);
  const [one, two] = [line.ask(ask, picture), line.ask(ask, picture)];
  await settle();
  expect(worker.asked).toHaveLength(1);
  worker.answer();
  expect((await one).ok).toBe(true);
  await settle();
  expect(worker.asked).toHaveLength(2);
  worker.answer();
  expect((await two).ok).toBe(true);
});

test('a job that is done ends the worker only when nothing else is asked', async () => {
  const workers: SlowWorker[] = [];
  const line = new VisionLine(() => {
    const worker = new SlowWorker();
    workers.push(worker);
    return worker;
  });
  void line.ask(ask, picture);
  const other = line.ask(ask, picture);
  await settle();
  workers[0]!.answer();
  line.rest();
  await settle();
  expect(workers[0]!.ended).toBe(false);
  workers[0]!.answer();
  await other;
  line.rest();
  await settle();
  expect(workers[0]!.ended).toBe(true);
});

test('giving up answers everything that waits, and the next ask starts another worker', async () => {
  const workers: SlowWorker[] = [];
  const line = new VisionLine(() => {
    const worker = new SlowWorker();
    workers.push(worker);
    return worker;
  });
  const waiting = [line.ask(ask, picture), line.ask(ask, picture)];
  await settle();
  line.cancel();
  expect(await Promise.all(waiting)).toEqual([
    { ok: false, stop: null },
    { ok: false, stop: null },
  ]);
  expect(workers).toHaveLength(1);
  const next = line.ask(ask, picture);
  await settle();
  expect(workers).toHaveLength(2);
  workers[1]!.answer();
  expect((await next).ok).toBe(true);
});
