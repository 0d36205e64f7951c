import { expect, test } from 'vitest';
import { addPhoto, makePhoto, makeSurvey } from '../../../src/app/newSurvey.ts';
import { describePicture } from '../../../src/ui/photo/expected.ts';

const survey = makeSurvey('Wall', 3600, 2450, 'mm');
const makeOne = (widthPx: number, heightPx: number) =>
  makePhoto(survey, 'photos/a.jpg', { widthPx, heightPx, focal35Mm: 27 }, { axis: 'level', colour: 'green' });

test('Shrunk photos: mm of wall to a pixel and the expected uncertainty, before any result', () => {
  // 3.6 m over 4000 px are 0.9 mm; three of them per px of offset, a point to 0.15 px
  expect(describePicture(survey, makeOne(4000, 3000))).toBe(
    '4000 × 3000 px, about 0.9 mm of wall to a pixel: expect ±0.4 mm at a point',
  );
  expect(describePicture(survey, makeOne(1024, 768))).toContain(
    'about 3.5 mm of wall to a pixel: expect ±1.6 mm',
  );
});

test('a measured stand takes the place of the guess', () => {
  const photo = makeOne(4000, 3000);
  const [line] = photo.lines;
  const stood = {
    ...photo,
    stand: { off: 2500, up: 1800, along: null, sigma: 10 },
    lines: [{ ...line!, sheet: { axis: 'level' as const, at: 800 } }],
  };
  // 2500 mm at 3000 px of focal length; 1000 mm above the sheet
  expect(describePicture(addPhoto(survey, stood), stood)).toContain(
    'about 0.8 mm of wall to a pixel: expect ±0.3 mm',
  );
});

test('a picture that was not opened yet tells nothing', () => {
  expect(describePicture(survey, { ...makeOne(1, 1), widthPx: undefined })).toBeNull();
});
