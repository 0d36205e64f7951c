import { expect, test } from 'vitest';
import { Finding, mergeQuietly } from '../../src/app/finding.svelte.ts';
import { setSheet } from '../../src/app/editLines.ts';
import { makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import { Session } from '../../src/app/session.svelte.ts';
import type { VisionLine } from '../../src/app/visionLine.ts';
import type { Photo, Survey } from '../../src/core/survey.ts';

const facts = { widthPx: 400, heightPx: 300, focal35Mm: null };

function makeTwo(): Survey {
  const base = makeSurvey('Wall', 3600, 2450, 'mm');
  const line = { axis: 'level', colour: 'green' } as const;
  const one = makePhoto(base, 'photos/a.jpg', facts, line);
  const withOne = { ...base, photos: [one] };
  return { ...base, photos: [one, makePhoto(withOne, 'photos/b.jpg', facts, line)] };
}

const seen = (photo: Photo): Photo => ({
  ...photo,
  lines: photo.lines.map((line) => ({
    ...line,
    points: [0, 1, 2].map((u) => ({ u, v: 100, sigma: 0.2, state: 'found' as const })),
  })),
});

/** A vision worker that answers each look when told to. */
function makeVision() {
  const waiting: (() => void)[] = [];
  const asked: string[] = [];
  const ask = (what: { survey: Survey; photoId: string }) =>
    new Promise((resolve) => {
      asked.push(what.photoId);
      const photo = what.survey.photos.find(({ id }) => id === what.photoId)!;
      waiting.push(() => resolve({ ok: true, value: { photo: seen(photo), warnings: [] } }));
    });
  const vision = { ask, rest: () => undefined, cancel: () => undefined };
  return { vision: vision as unknown as VisionLine, asked, answer: () => waiting.shift()!() };
}

const settle = () => new Promise((resolve) => setTimeout(resolve));
const pointsOf = ({ survey }: Session) => survey!.photos.map(({ lines }) => lines[0]!.points.length);

async function openTwo() {
  const session = new Session();
  const survey = makeTwo();
  const bytes = new Uint8Array([0xff, 0xd8, 0xff, 0xd9]).buffer;
  await session.addSurvey(survey, new Map(survey.photos.map(({ file }) => [file, bytes])), 's1');
  return session;
}

test('photos asked for while a job runs join its end; one that waits is not asked twice', async () => {
  const session = await openTwo();
  const { vision, asked, answer } = makeVision();
  const finding = new Finding(session, vision);
  const [one, two] = session.survey!.photos as [Photo, Photo];
  const ended = finding.run([one], false);
  void finding.runQuietly([two]);
  void finding.run([two], false);
  expect(finding.states).toMatchObject({ f1: { state: 'busy' }, f2: { state: 'waiting' } });
  await settle();
  answer();
  await settle();
  expect(pointsOf(session)).toEqual([3, 0]);
  answer();
  await ended;
  expect(asked).toEqual(['f1', 'f2']);
  expect(pointsOf(session)).toEqual([3, 3]);
  expect(finding.running).toBe(false);
});

test('what is found in the background is no step: undo takes back what the user did, and the points stay', async () => {
  const session = await openTwo();
  const { vision, answer } = makeVision();
  const finding = new Finding(session, vision);
  const [one] = session.survey!.photos as [Photo];
  session.change(setSheet(session.survey!, 'f1', 'l1', { at: 500 }));
  const ended = finding.runQuietly([one]);
  session.change(setSheet(session.survey!, 'f2', 'l1', { at: 900 }));
  await settle();
  answer();
  await ended;
  expect(pointsOf(session)).toEqual([3, 0]);
  session.undo();
  expect(session.survey!.photos.map(({ lines }) => lines[0]!.sheet.at)).toEqual([500, null]);
  session.undo();
  expect(session.survey!.photos[0]!.lines[0]!.sheet.at).toBeNull();
  expect(pointsOf(session)).toEqual([3, 0]);
  expect(session.canUndo).toBe(false);
});

test('a step in which the line ran otherwise takes nothing of it', () => {
  const survey = makeTwo();
  const found = seen(survey.photos[0]!);
  const plumb = setSheet(survey, 'f1', 'l1', { axis: 'plumb' });
  expect(mergeQuietly(plumb, found).photos[0]!.lines[0]!.points).toEqual([]);
  expect(mergeQuietly(survey, found).photos[0]!.lines[0]!.points).toHaveLength(3);
});
