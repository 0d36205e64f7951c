import { beforeEach, expect, test } from 'vitest';
import { addPhoto, makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import { openSurveyFiles } from '../../src/app/openSurvey.ts';
import { Session } from '../../src/app/session.svelte.ts';
import { packSurvey } from '../../src/file/archive.ts';
import { writeSurvey } from '../../src/file/survey.ts';

// a JPEG cut down to its markers: SOI, a comment, SOS, EOI (ITU-T T.81 annex B)
const jpeg = Uint8Array.from(
  Buffer.from('ffd8' + 'fffe000b48656c6c6f20475053' + 'ffda0008010100003f00' + '1234' + 'ffd9', 'hex'),
);
const base = makeSurvey('North wall', 3600, 2450, 'mm');
const size = { widthPx: 4, heightPx: 3, focal35Mm: null };
const survey = addPhoto(base, makePhoto(base, 'photos/a.jpg', size, { axis: 'level', colour: 'green' }));
const fileOf = (name: string, ...parts: (string | Uint8Array)[]) =>
  new File(
    parts.map((part) => (typeof part === 'string' ? part : part.slice())),
    name,
  );

let session: Session;
beforeEach(async () => {
  session = new Session();
  await session.start();
});
const open = (...files: File[]) => openSurveyFiles(session, files, () => undefined);

test('a ZIP opens with its photographs, their comments gone', async () => {
  const zip = packSurvey({ survey, photos: new Map([['photos/a.jpg', jpeg]]) });
  expect(await open(fileOf('survey.zip', zip))).toBeNull();
  expect(session.survey).toEqual(survey);
  const kept = new Uint8Array((await session.readPhoto('photos/a.jpg'))!);
  expect(Buffer.from(kept).toString('latin1')).not.toContain('GPS');
  expect(Buffer.from(kept).toString('hex')).toMatch(/^ffd8.*1234ffd9$/);
});

test('a survey file opens with the photographs that were chosen beside it, in any order', async () => {
  expect(await open(fileOf('a.jpg', jpeg), fileOf('survey.json', writeSurvey(survey)))).toBeNull();
  expect(session.survey).toEqual(survey);
  expect(await session.readPhoto('photos/a.jpg')).not.toBeNull();
});

test('a survey whose photograph is no picture opens without it, and says so', async () => {
  const zip = packSurvey({ survey, photos: new Map([['photos/a.jpg', new Uint8Array([1, 2, 3])]]) });
  expect(await open(fileOf('survey.zip', zip))).toBeNull();
  expect(session.stop).toEqual({ code: 'not_a_picture', file: 'photos/a.jpg' });
  expect(await session.readPhoto('photos/a.jpg')).toBeNull();
});

test('what is no survey is refused and the open survey stays', async () => {
  await session.addSurvey(base, new Map());
  expect(await open(fileOf('a.jpg', jpeg))).toEqual({ code: 'survey_not_ours', file: 'a.jpg' });
  expect(await open(fileOf('notes.txt', 'hello'))).toEqual({ code: 'survey_not_json', file: 'notes.txt' });
  const newer = await open(fileOf('s.json', '{"format":"bedplane-survey","version":7}'));
  expect(newer).toMatchObject({ code: 'survey_too_new', version: 7 });
  expect(session.survey).toBe(base);
});
