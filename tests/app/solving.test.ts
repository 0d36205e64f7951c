import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { makeSurvey } from '../../src/app/newSurvey.ts';
import { Session } from '../../src/app/session.svelte.ts';
import { Solving, type Screen } from '../../src/app/solving.svelte.ts';
import { makeMemoryStore } from '../../src/app/store.ts';
import type { WorkerLike } from '../../src/app/workers.ts';
import type { Survey } from '../../src/core/survey.ts';
import type { Call } from '../../src/vision/messages.ts';
import type { SurveyAsk, SurveySums } from '../../src/vision/surveyAsk.ts';

class FakeWorker implements WorkerLike {
  onmessage: ((event: MessageEvent) => void) | null = null;
  onerror: ((event: ErrorEvent) => void) | null = null;
  readonly calls: Call<SurveyAsk>[] = [];
  ended = false;
  postMessage(message: unknown) {
    this.calls.push(message as Call<SurveyAsk>);
  }
  terminate() {
    this.ended = true;
  }
  /** Ends the last call. */
  end(value: SurveySums | null) {
    const { id } = this.calls.at(-1)!;
    this.onmessage?.({ data: { kind: 'end', id, outcome: { ok: true, value } } } as MessageEvent);
  }
  refuse() {
    const { id } = this.calls.at(-1)!;
    const stop = { code: 'readings_few', count: 2 };
    this.onmessage?.({ data: { kind: 'end', id, outcome: { ok: false, stop } } } as MessageEvent);
  }
  get jobs() {
    return this.calls.map(({ ask }) => ask.job).join(' ');
  }
}

const reading = (k: number, distance: number) => ({
  id: `r${k}`,
  along: 500 * k,
  up: 300 * k * k,
  distance,
  sigma: 1,
});
const survey: Survey = {
  ...makeSurvey('North wall', 3600, 2450, 'mm'),
  readings: [1, 2, 3].map((k) => reading(k, 60)),
};
const sums = (name: string) =>
  ({ solution: { name, surface: {} }, plan: { ok: true, value: {} }, next: null }) as unknown as SurveySums;

let session: Session;
let solving: Solving;
let made: FakeWorker[];
const worker = () => made.at(-1)!;
/** Lets the screen look, time pass and promises settle. */
async function rest(ms: number, screen: Screen = 'results') {
  solving.follow(screen);
  await vi.advanceTimersByTimeAsync(ms);
}
function edit(distance: number) {
  const { readings } = session.survey!;
  session.change({
    ...session.survey!,
    readings: readings.map((each, k) => (k === 0 ? { ...each, distance } : each)),
  });
}

beforeEach(async () => {
  vi.useFakeTimers();
  made = [];
  session = new Session();
  session.store = makeMemoryStore();
  await session.addSurvey(survey, new Map(), 'one');
  solving = new Solving(session, () => {
    made.push(new FakeWorker());
    return worker();
  });
});
afterEach(() => {
  vi.useRealTimers();
});

/** A page that shows a full result. */
async function solveFirst() {
  await rest(0);
  worker().end(sums('first'));
  await rest(0);
}

test('without a result a screen that shows results solves in full, one of work does nothing', async () => {
  await rest(5000, 'work');
  expect(made.length).toBe(0);
  await rest(0);
  expect(worker().calls[0]!.ask).toMatchObject({ job: 'solve', session: 'one' });
  expect(solving.share).toBe(0);
  worker().end(sums('first'));
  await rest(10_000);
  expect(session.solved).toMatchObject({ quick: false, of: session.survey, solution: { name: 'first' } });
  expect(worker().jobs).toBe('solve');
});

test('after an edit a quick result comes at once, and the full one when the user has rested', async () => {
  await solveFirst();
  edit(61);
  await rest(0);
  expect(worker().jobs).toBe('solve again');
  expect(solving.share).toBeNull();
  worker().end(sums('quick'));
  await rest(1400);
  expect(session.solved).toMatchObject({ quick: true, solution: { name: 'quick' } });
  expect(session.freshness).toBe('fresh');
  expect(worker().jobs).toBe('solve again');
  await rest(1600);
  expect(worker().jobs).toBe('solve again solve');
  worker().end(sums('full'));
  await rest(10_000);
  expect(session.solved).toMatchObject({ quick: false, solution: { name: 'full' } });
  expect(worker().jobs).toBe('solve again solve');
});

test('while evidence is worked on, the quick result waits for a rest of 300 ms and no full one follows', async () => {
  await solveFirst();
  for (const distance of [61, 62, 63]) {
    edit(distance);
    await rest(250, 'work');
  }
  expect(worker().jobs).toBe('solve');
  await rest(310, 'work');
  expect(worker().jobs).toBe('solve again');
  expect(worker().calls[1]!.ask.survey.readings[0]!.distance).toBe(63);
  worker().end(sums('quick'));
  await rest(10_000, 'work');
  expect(session.solved).toMatchObject({ quick: true, solution: { name: 'quick' } });
  expect(worker().jobs).toBe('solve again');
});

test('a newer edit supersedes a running job: its result is dropped, the newest is asked for', async () => {
  await solveFirst();
  edit(61);
  await rest(0);
  edit(62);
  await rest(1000);
  expect(worker().jobs).toBe('solve again');
  worker().end(sums('old'));
  await rest(0);
  await rest(0);
  expect(session.solved).toMatchObject({ solution: { name: 'first' } });
  expect(worker().jobs).toBe('solve again again');
  expect(worker().calls[2]!.ask.survey.readings[0]!.distance).toBe(62);
  worker().end(sums('new'));
  await rest(0);
  expect(session.solved).toMatchObject({ solution: { name: 'new' }, of: session.survey });
  expect(made.length).toBe(1);
});

test('an edit during a full solve does not break it off, but drops its result', async () => {
  await solveFirst();
  edit(61);
  await rest(0);
  worker().end(sums('quick'));
  await rest(0);
  await rest(1600);
  edit(62);
  await rest(1000);
  expect(worker().jobs).toBe('solve again solve');
  worker().end(sums('full of 61'));
  await rest(0);
  await rest(0);
  expect(session.solved).toMatchObject({ solution: { name: 'quick' } });
  expect(worker().jobs).toBe('solve again solve again');
});

test('what cannot be solved quickly is solved in full where results are shown', async () => {
  await solveFirst();
  edit(61);
  await rest(310, 'work');
  worker().end(null);
  await rest(10_000, 'work');
  expect(worker().jobs).toBe('solve again');
  expect(session.freshness).toBe('old');
  await rest(0);
  expect(worker().jobs).toBe('solve again solve');
});

test('papers are made of a full solve only, at once', async () => {
  await solveFirst();
  edit(61);
  await rest(0);
  worker().end(sums('quick'));
  await rest(0);
  await rest(0, 'papers');
  expect(worker().jobs).toBe('solve again solve');
  worker().end(sums('full'));
  await rest(0, 'papers');
  edit(62);
  await rest(0, 'papers');
  expect(worker().jobs).toBe('solve again solve solve');
});

test('where only the lining changed, only the plan is made anew', async () => {
  await solveFirst();
  session.change({
    ...session.survey!,
    lining: { ...survey.lining, bed: { min: 8, max: 20, packedMax: 40 } },
  });
  await rest(0);
  expect(worker().jobs).toBe('solve plan');
  worker().end({ ...sums(''), solution: null });
  await rest(0);
  expect(session.solved).toMatchObject({ quick: false, solution: { name: 'first' }, of: session.survey });
});

test('a refusal of the quick solve is told by the full one', async () => {
  await solveFirst();
  edit(61);
  await rest(0);
  worker().refuse();
  await rest(0);
  expect(solving.stop).toBeNull();
  await rest(0);
  worker().refuse();
  await rest(10_000);
  expect(solving.stop).toEqual({ code: 'readings_few', count: 2 });
  expect(worker().jobs).toBe('solve again solve');
});

test('a quick result is not kept on the device', async () => {
  await solveFirst();
  edit(61);
  await rest(0);
  worker().end(sums('quick'));
  await rest(0);
  expect((await session.store.readResult('one'))?.solution).toMatchObject({ name: 'first' });
  expect((await session.store.readSurvey('one'))?.solvedStamp).toBeNull();
});

test('another survey ends the job; nothing of it arrives', async () => {
  await solveFirst();
  edit(61);
  await rest(0);
  await session.addSurvey({ ...survey, title: 'Other' }, new Map(), 'two');
  solving.forget();
  expect(worker().ended).toBe(true);
  await rest(0);
  expect(session.solved).toBeNull();
});
