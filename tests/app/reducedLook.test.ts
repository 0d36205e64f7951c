import { expect, test } from 'vitest';
import { lookAtAnySize } from '../../src/app/reducedLook.ts';
import type { Stop } from '../../src/app/trouble.ts';
import { VisionLine } from '../../src/app/visionLine.ts';
import type { WorkerLike } from '../../src/app/workers.ts';
import type { LookAsk, SentAsk } from '../../src/vision/ask.ts';
import { scalePhoto } from '../../src/vision/photoScale.ts';
import { makeSurvey } from '../truth/survey.ts';

const made = makeSurvey(3, 'plaster', { levels: [800], plumbs: [] }).survey;
const whole = { ...made.photos[0]!, widthPx: 12000, heightPx: 9000 };
const survey = { ...made, photos: [{ ...whole, lines: [{ ...whole.lines[0]!, points: [] }] }] };
const ask: LookAsk = { kind: 'look', survey, photoId: whole.id, focal35Mm: 26, again: false };
const picture = { blob: new Blob([]), file: whole.file };

/** Workers that die, or answer, as told: one entry per call over all of them. */
function makeWorkers(script: readonly ('die' | Stop | 'find')[]) {
  const calls: SentAsk<Blob>[] = [];
  let started = 0;
  const start = (): WorkerLike => {
    started++;
    const worker: WorkerLike = {
      onmessage: null,
      onerror: null,
      terminate: () => undefined,
      postMessage(message) {
        const { id, ask } = message as { id: number; ask: SentAsk<Blob> };
        const step = script[calls.length]!;
        calls.push(ask);
        const photo = (ask.ask as LookAsk).survey.photos[0]!;
        queueMicrotask(() => {
          if (step === 'die') return worker.onerror?.({} as ErrorEvent);
          const size = { widthPx: ask.reducedTo ?? 12000, heightPx: (ask.reducedTo ?? 12000) * 0.75 };
          const lines = scalePhoto(whole, size.widthPx / 12000).lines;
          const found = {
            photo: { ...photo, ...size, lines },
            warnings: [{ code: 'photo_small', subject: 'f1' }],
          };
          const outcome = step === 'find' ? { ok: true, value: found } : { ok: false, stop: step };
          worker.onmessage?.({ data: { kind: 'end', id, outcome } } as MessageEvent);
        });
      },
    };
    return worker;
  };
  return { start, calls, started: () => started };
}

test('Allocation failure aborts uncatchably: another worker looks at the same photo smaller, and the user is told', async () => {
  const workers = makeWorkers(['die', 'find']);
  const answer = await lookAtAnySize(new VisionLine(workers.start), ask, picture);
  expect(workers.started()).toBe(2);
  expect(workers.calls.map(({ reducedTo }) => reducedTo)).toEqual([undefined, 4000]);
  // the marks went along with the picture
  const [mark] = (workers.calls[1]!.ask as LookAsk).survey.photos[0]!.marks;
  expect(mark!.u).toBeCloseTo((whole.marks[0]!.u + 0.5) / 3 - 0.5, 9);
  if (!answer.ok) throw new Error('expected an answer');
  const { photo, warnings } = answer.value;
  expect(warnings).toEqual([{ code: 'photo_reduced', subject: whole.id }]);
  expect([photo.widthPx, photo.heightPx]).toEqual([12000, 9000]);
  expect(photo.marks).toEqual(whole.marks);
  photo.lines[0]!.points.forEach((point, i) => {
    expect(point.u).toBeCloseTo(whole.lines[0]!.points[i]!.u, 6);
    expect(point.v).toBeCloseTo(whole.lines[0]!.points[i]!.v, 6);
  });
});

test.each([
  { code: 'picture_too_large', widthPx: 12000, heightPx: 9000 },
  { code: 'not_a_picture', file: 'f1.jpg' },
] as const)('Allocation failure told as $code: the same', async (stop) => {
  const workers = makeWorkers([stop, 'find']);
  const answer = await lookAtAnySize(new VisionLine(workers.start), ask, picture);
  expect(answer.ok).toBe(true);
  expect(workers.started()).toBe(1);
});

test('Allocation failure at the smaller size too: the first stop is told', async () => {
  const workers = makeWorkers(['die', 'die']);
  const answer = await lookAtAnySize(new VisionLine(workers.start), ask, picture);
  expect(answer).toEqual({ ok: false, stop: { code: 'worker_lost' } });
  expect(workers.calls.length).toBe(2);
});

test('a small picture, or another stop, is not tried again', async () => {
  const small = { ...survey, photos: [{ ...survey.photos[0]!, widthPx: 1600, heightPx: 1200 }] };
  const lost = makeWorkers(['die']);
  expect(await lookAtAnySize(new VisionLine(lost.start), { ...ask, survey: small }, picture)).toMatchObject({
    ok: false,
  });
  const bug = makeWorkers([{ code: 'bug', message: 'x' }]);
  expect(await lookAtAnySize(new VisionLine(bug.start), ask, picture)).toMatchObject({ ok: false });
  expect([lost.calls.length, bug.calls.length]).toEqual([1, 1]);
});
