import { strToU8, unzipSync, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { Refused } from '../../src/core/refusal.ts';
import { packSurvey, unpackSurvey } from '../../src/file/archive.ts';
import { parseSurvey } from '../../src/file/survey.ts';
import { contractText } from './contract.ts';
import { makeJpeg } from './pictures.ts';

const survey = parseSurvey(contractText);
const photo = makeJpeg();
const photos = new Map([['photos/f1.jpg', photo]]);
const refusalOf = (zip: Uint8Array) => {
  try {
    unpackSurvey(zip, 'wall.zip');
  } catch (thrown) {
    if (thrown instanceof Refused) return thrown.refusal;
    throw thrown;
  }
  throw new Error('expected a refusal, got a survey');
};

describe('packing', () => {
  test('what is packed comes out the same', () => {
    const back = unpackSurvey(packSurvey({ survey, photos }), 'wall.zip');
    expect(back.survey).toEqual(survey);
    expect([...back.photos]).toEqual([['photos/f1.jpg', photo]]);
  });

  test('the same survey gives the same bytes; pictures are stored, text is deflated', () => {
    const zip = packSurvey({ survey, photos });
    expect(packSurvey({ survey, photos })).toEqual(zip);
    expect(Buffer.from(zip).includes(Buffer.from(photo))).toBe(true);
    expect(Buffer.from(zip).includes(Buffer.from('bedplane-survey'))).toBe(false);
    expect(Object.keys(unzipSync(zip))).toEqual(['survey.json', 'photos/f1.jpg']);
  });

  test('photographs that are not there are left out, others than the survey names too', () => {
    const zip = packSurvey({ survey, photos: new Map([['photos/other.jpg', photo]]) });
    expect(Object.keys(unzipSync(zip))).toEqual(['survey.json']);
    expect(unpackSurvey(zip, 'wall.zip').photos.size).toBe(0);
  });
});

describe('unpacking', () => {
  test('one folder round everything, and what some packers add, is all right', () => {
    const zip = zipSync({
      '__MACOSX/survey.json': strToU8('junk'),
      'east wall/survey.json': strToU8(contractText),
      'east wall/photos/f1.jpg': photo,
      'east wall/.DS_Store': strToU8('junk'),
    });
    const back = unpackSurvey(zip, 'wall.zip');
    expect(back.survey).toEqual(survey);
    expect(back.photos.get('photos/f1.jpg')).toEqual(photo);
    expect(back.photos.size).toBe(1);
  });

  test('names with backslashes, and with letters taken apart, are the same names', () => {
    const file = 'photos/k\u00fcche.jpg';
    const text = contractText.replace('photos/f1.jpg', file);
    const zip = zipSync({ 'survey.json': strToU8(text), [file.normalize('NFD').replace('/', '\\')]: photo });
    expect(unpackSurvey(zip, 'wall.zip').photos.get(file)).toEqual(photo);
  });

  test('the survey at the root is taken before one in a folder', () => {
    const inner = contractText.replace('Boathouse', 'Another');
    const zip = zipSync({ 'old/survey.json': strToU8(inner), 'survey.json': strToU8(contractText) });
    expect(unpackSurvey(zip, 'wall.zip').survey.title).toBe(survey.title);
  });

  test('a photograph that climbs out of the folder is refused with its field', () => {
    const zip = zipSync({
      'survey.json': strToU8(contractText.replace('photos/f1.jpg', '../f1.jpg')),
      '../f1.jpg': photo,
    });
    expect(refusalOf(zip)).toMatchObject({ code: 'survey_field_wrong', path: 'photos[0].file' });
  });

  test.each<[string, Uint8Array]>([
    ['no ZIP', strToU8('not a ZIP at all')],
    ['nothing', new Uint8Array(0)],
    ['a ZIP cut short', packSurvey({ survey, photos }).subarray(0, 300)],
    ['a ZIP without a survey', zipSync({ 'photos/f1.jpg': photo })],
    ['a survey two folders down', zipSync({ 'a/b/survey.json': strToU8(contractText) })],
  ])('%s is archive_unreadable', (_, zip) => {
    expect(refusalOf(zip)).toEqual({ code: 'archive_unreadable', file: 'wall.zip' });
  });

  test('a broken survey in a sound ZIP is told as such', () => {
    expect(refusalOf(zipSync({ 'survey.json': strToU8('{') }))).toEqual({
      code: 'survey_not_json',
      file: 'survey.json',
    });
  });
});
