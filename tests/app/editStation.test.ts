import { expect, test } from 'vitest';
import { setSamePlace } from '../../src/app/editStation.ts';
import type { Survey } from '../../src/core/survey.ts';
import { doubtWords } from '../../src/ui/photo/blunderWords.ts';
import { doubtPlacing } from '../../src/ui/photo/doubt.ts';
import { meanOutMm, placePhoto } from '../../src/ui/photo/measure.ts';
import { photoNeeds } from '../../src/ui/standing.ts';
import { makeSurvey } from '../truth/survey.ts';

const { survey } = makeSurvey(61, 'plaster', { everyPx: 40 });
const names = ({ photos }: Survey) => photos.slice(0, 4).map(({ station }) => station ?? '');

test('photos are put together and taken apart, and no name is left to one photo alone', () => {
  const two = setSamePlace(survey, 'f2', 'f1');
  expect(names(two)).toEqual(['t1', 't1', '', '']);
  expect(setSamePlace(two, 'f2', 'f1')).toBe(two);
  const three = setSamePlace(two, 'f4', 'f2');
  expect(names(three)).toEqual(['t1', 't1', '', 't1']);
  expect(names(setSamePlace(three, 'f2', null))).toEqual(['t1', '', '', 't1']);
  expect(names(setSamePlace(two, 'f2', null))).toEqual(['', '', '', '']);
  // to another photo: a name of its own, and the one left behind loses its
  expect(names(setSamePlace(two, 'f2', 'f3'))).toEqual(['', 't2', 't2', '']);
  expect(() => setSamePlace(survey, 'f2', 'f2')).toThrow(/expected another photo/);
  expect(survey.photos.every(({ station }) => station === undefined)).toBe(true);
});

test('a photo without marks needs none when the others have them', () => {
  const { photos } = setSamePlace(survey, 'f2', 'f1');
  const bare = { ...photos[1]!, marks: [], stand: { off: null, up: null, along: null, sigma: 10 } };
  expect(photoNeeds(bare)).toBe('set marks on the tape');
  expect(photoNeeds(bare, photos)).toBeNull();
});

test('a phone that was moved is said to be, at the photo and at its fellows', () => {
  const outMm = meanOutMm(survey.readings);
  const { lens } = survey.phones[0]!;
  const first = { ...survey.photos[0]!, station: 't1', lines: [] };
  const marks = first.marks.map((mark) => ({ ...mark, u: mark.u + 40, v: mark.v + 25 }));
  const moved = { ...first, id: 'f2', marks };
  const doubtOf = (photo: typeof first, fellows: (typeof first)[]) =>
    doubtPlacing(photo, lens, outMm, 8, placePhoto(photo, lens, outMm, 8, fellows), fellows);
  const still = doubtOf(first, [{ ...first, id: 'f2' }]);
  expect(still).toMatchObject({ agrees: true, moved: null });
  const doubt = doubtOf(first, [moved, { ...first, id: 'f3' }]);
  expect(doubt).toMatchObject({ agrees: false, moved: 'f2' });
  expect(doubtWords(doubt, 'f1')).toMatch(/moved for photo f2/);
  expect(doubtWords(doubt, 'f2')).toMatch(/moved before this picture/);
});
