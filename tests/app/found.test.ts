import { expect, test } from 'vitest';
import { mergeFound } from '../../src/app/finding.svelte.ts';
import { freePhotoFile, freeId, makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import { freshness, sameEvidence } from '../../src/app/solved.ts';
import type { Solved } from '../../src/app/solved.ts';

const facts = { widthPx: 400, heightPx: 300, focal35Mm: null };
const base = makeSurvey('Wall', 3600, 2450, 'mm');
const asked = makePhoto(base, 'photos/a.jpg', facts, { axis: 'level', colour: 'green' });
const survey = { ...base, photos: [asked] };
const points = [{ u: 1, v: 2, sigma: 0.1, state: 'found' as const }];

test('what the finder saw joins what the user changed meanwhile', () => {
  const found = {
    ...asked,
    widthPx: 4000,
    lines: [{ ...asked.lines[0]!, points, gaps: [{ from: 3, to: 9 }] }],
  };
  const meanwhile = {
    ...survey,
    photos: [
      {
        ...asked,
        stand: { ...asked.stand, off: 2500 },
        lines: [{ ...asked.lines[0]!, sheet: { axis: 'level' as const, at: 800 } }],
      },
    ],
  };
  const [photo] = mergeFound(meanwhile, found).photos;
  expect(photo!.stand.off).toBe(2500);
  expect(photo!.widthPx).toBe(4000);
  expect(photo!.lines[0]).toEqual({ ...found.lines[0], sheet: { axis: 'level', at: 800 } });
});

test('a photo or line that was taken away meanwhile stays away', () => {
  const found = { ...asked, lines: [{ ...asked.lines[0]!, points }] };
  expect(mergeFound({ ...survey, photos: [] }, found).photos).toEqual([]);
  expect(mergeFound({ ...survey, photos: [{ ...asked, lines: [] }] }, found).photos[0]!.lines).toEqual([]);
});

test('a result is old once evidence changes, to be planned again once the lining does, and fresh again after undo', () => {
  const solved = { stamp: 'a', of: survey } as unknown as Solved;
  expect(freshness(null, survey)).toBe('none');
  expect(freshness(solved, { ...survey, title: 'Other' })).toBe('fresh');
  expect(freshness(solved, { ...survey, readings: [] })).toBe('old');
  const lining = { ...survey.lining, board: { ...survey.lining.board, width: 900 } };
  expect(freshness(solved, { ...survey, lining })).toBe('replan');
  expect(freshness(solved, survey)).toBe('fresh');
  expect(sameEvidence(survey, { ...survey, photos: [asked] })).toBe(false);
});

test('ids and file names are free ones', () => {
  expect(freeId('f', [{ id: 'f1' }, { id: 'f2' }])).toBe('f3');
  expect(freePhotoFile('IMG 0001.JPG', [{ file: 'photos/IMG-0001.jpg' }])).toBe('photos/IMG-0001-2.jpg');
  expect(freePhotoFile('../../etc.png', [])).toBe('photos/etc.png');
});
