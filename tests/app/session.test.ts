import { beforeEach, expect, test } from 'vitest';
import { addPhoto, makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import { Session } from '../../src/app/session.svelte.ts';
import type { Solved } from '../../src/app/solved.ts';
import { makeMemoryStore } from '../../src/app/store.ts';
import { parseSurvey } from '../../src/file/survey.ts';

const survey = makeSurvey('North wall', 3600, 2450, 'mm');
const bytes = new Uint8Array([1, 2, 3]).buffer;
const settle = () => new Promise((resolve) => setTimeout(resolve, 5));

let session: Session;
beforeEach(async () => {
  session = new Session();
  await session.start();
  session.store = makeMemoryStore();
});

/** A page opened anew on the same device. */
async function reopen(): Promise<Session> {
  const next = new Session();
  const { store } = session;
  await next.start(() => Promise.resolve(store));
  return next;
}

test('a survey, its edits and its photographs are there again when the page is opened anew', async () => {
  await session.addSurvey(survey, new Map([['photos/a.jpg', bytes]]));
  const photo = makePhoto(
    survey,
    'photos/a.jpg',
    { widthPx: 1, heightPx: 1, focal35Mm: null },
    { axis: 'level', colour: 'red' },
  );
  session.change(addPhoto(survey, photo));
  session.change({ ...session.survey!, title: 'South wall' });
  await settle();
  const next = await reopen();
  expect(next.survey).toEqual({ ...addPhoto(survey, photo), title: 'South wall' });
  expect(next.canUndo).toBe(false);
  expect(new Uint8Array((await next.readPhoto('photos/a.jpg'))!)).toEqual(new Uint8Array([1, 2, 3]));
});

test('photographs that no photo names any more are dropped when the survey is opened again', async () => {
  await session.addSurvey(survey, new Map([['photos/a.jpg', bytes]]));
  const next = await reopen();
  expect(await next.readPhoto('photos/a.jpg')).toBeNull();
});

test('one change is one step, the changes of one job are one step', async () => {
  await session.addSurvey(survey, new Map());
  session.change({ ...survey, title: 'a' });
  session.change({ ...survey, title: 'b' }, 'job');
  session.change({ ...survey, title: 'c' }, 'job');
  session.undo();
  expect(session.survey?.title).toBe('a');
  session.redo();
  expect(session.survey?.title).toBe('c');
  session.undo();
  session.undo();
  expect(session.survey).toBe(survey);
  expect(session.canUndo).toBe(false);
});

test('a deleted survey can be put back, and is gone for good the next time', async () => {
  await session.addSurvey(survey, new Map(), 'one');
  await session.addSurvey({ ...survey, title: 'Other' }, new Map(), 'two');
  await session.markRemoved('two', true);
  expect(session.survey).toBeNull();
  await session.markRemoved('two', false);
  expect(await session.openSurvey('two')).toBe(true);
  await session.markRemoved('one', true);
  const next = await reopen();
  expect(next.cards.map((card) => card.id)).toEqual(['two']);
  expect(await next.store.readSurvey('one')).toBeUndefined();
});

test('a survey that cannot be read is said to be, and the open one stays', async () => {
  await session.addSurvey(survey, new Map(), 'one');
  await session.store.writeSurvey(
    { ...session.cards[0]!, id: 'two', title: 'Broken' },
    { id: 'two', survey: { format: 'bedplane-survey', version: 1 }, solvedStamp: null },
  );
  session.cards = await session.store.listCards();
  expect(await session.openSurvey('two')).toBe(false);
  expect(session.stop).toEqual({ code: 'survey_unreadable', title: 'Broken' });
  expect(session.id).toBe('one');
  expect(session.survey).toBe(survey);
});

test('when the device will not keep it, work goes on and says "not saved"', async () => {
  await session.addSurvey(survey, new Map());
  session.store.writeSurvey = () => Promise.reject(new Error('QuotaExceededError'));
  session.store.writePhoto = () => Promise.reject(new Error('QuotaExceededError'));
  session.change({ ...survey, title: 'Still here' });
  await session.keepPhoto('photos/b.jpg', bytes);
  await settle();
  expect(session.saving).toEqual({ state: 'failed', reason: 'QuotaExceededError' });
  expect(session.stop).toEqual({ code: 'photo_not_kept', file: 'photos/b.jpg' });
  expect(session.survey?.title).toBe('Still here');
  expect(await session.readPhoto('photos/b.jpg')).toBe(bytes);
});

test('a result comes back with the survey it was made of, and not with another', async () => {
  await session.addSurvey(survey, new Map(), 'one');
  const solved = {
    stamp: 's1',
    of: session.survey,
    quick: false,
    solution: { profiles: [], setbacks: [] },
    plan: null,
    planStop: null,
    next: null,
  };
  await session.takeSolved(solved as unknown as Solved);
  expect(session.freshness).toBe('fresh');
  expect((await reopen()).freshness).toBe('fresh');
  session.change({ ...survey, readings: [{ id: 'r1', along: 1, up: 1, distance: 60, sigma: 1 }] });
  expect(session.freshness).toBe('old');
  await settle();
  expect((await reopen()).freshness).toBe('none');
});

test('a new survey, and one with a photo, keep the laws of the file', () => {
  expect(parseSurvey(survey)).toEqual(survey);
  const photo = makePhoto(
    survey,
    'photos/a.jpg',
    { widthPx: 4, heightPx: 3, focal35Mm: 26 },
    { axis: 'plumb', colour: 'green' },
  );
  const withPhoto = addPhoto({ ...survey, phones: [] }, photo);
  expect(parseSurvey(withPhoto)).toEqual(withPhoto);
});
