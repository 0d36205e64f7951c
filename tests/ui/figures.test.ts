import { expect, test } from 'vitest';
import { addPhoto, makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import { rangeOf, rootMeanSquare, subjectName, tellWarnings } from '../../src/ui/figures.ts';

test('figures leave out what is missing', () => {
  expect(rootMeanSquare([3, NaN, 4])).toBeCloseTo(Math.sqrt(12.5), 12);
  expect(rootMeanSquare([NaN])).toBeNaN();
  expect(rangeOf(Float64Array.from([NaN, -2, 7]))).toEqual({ least: -2, most: 7 });
  expect(rangeOf([])).toEqual({ least: NaN, most: NaN });
});

test('a subject is named as the user knows it', () => {
  const base = makeSurvey('Wall', 3600, 2450, 'mm');
  const photo = makePhoto(
    base,
    'a.jpg',
    { widthPx: 1, heightPx: 1, focal35Mm: null },
    { axis: 'level', colour: 'red' },
  );
  const reading = { id: 'r2', along: 0, up: 0, distance: 60, sigma: 1 };
  const survey = addPhoto({ ...base, readings: [reading] }, photo);
  expect(subjectName(survey, 'f1')).toBe('Photo f1');
  expect(subjectName(survey, 'r2')).toBe('Reading r2');
  expect(subjectName(survey, 'l1')).toBe('Line l1 of photo f1');
  expect(subjectName(survey, 'f1/l1')).toBe('Line l1 of photo f1');
  expect(subjectName(survey, 'B3')).toBe('Board B3');
});

test('warnings about the plan name wishes, boards and stock boards as the user knows them', () => {
  const base = makeSurvey('Wall', 3600, 2450, 'mm');
  const face = {
    id: 'm1',
    kind: 'door lining',
    along: 900,
    up: 1000,
    distance: 40,
    rule: 'meet',
  } as const;
  const survey = { ...base, lining: { ...base.lining, plane: { faces: [face] } } };
  const told = tellWarnings(survey, [
    { code: 'wish_not_kept', subject: 'm1' },
    { code: 'wish_not_kept', subject: 'lean' },
    { code: 'packing_shallow', subject: 'A', count: 1 },
    { code: 'packing_shallow', subject: 'B', count: 3 },
    { code: 'sheet_tight', subject: 'S4' },
    { code: 'contact_short', subject: 'A', count: 4 },
    { code: 'contact_short', subject: 'B', count: 5 },
  ]);
  expect(told.map((words) => words.split(':').slice(0, 2).join(':'))).toEqual([
    expect.stringMatching(/^Wishes door lining m1, plumb: cannot be kept/),
    expect.stringMatching(/^Boards A, B: 4 dabs are deeper/),
    expect.stringMatching(/^Stock board S4: its pieces/),
    expect.stringMatching(/^Board A: its dabs hold 4 % less/),
    expect.stringMatching(/^Board B: its dabs hold 5 % less/),
  ]);
});

test('the same warning about several things is one sentence', () => {
  const base = makeSurvey('Wall', 3600, 2450, 'mm');
  const photo = (id: string) => ({
    ...makePhoto(
      base,
      `${id}.jpg`,
      { widthPx: 1, heightPx: 1, focal35Mm: null },
      { axis: 'level', colour: 'red' },
    ),
    id,
  });
  const survey = { ...base, photos: [photo('f1'), photo('f2')] };
  const told = tellWarnings(survey, [
    { code: 'no_line', subject: 'f1' },
    { code: 'no_readings', subject: 'wall' },
    { code: 'no_line', subject: 'f2' },
    { code: 'no_line', subject: 'f2' },
  ]);
  expect(told.length).toBe(2);
  expect(told[0]).toMatch(/^Photos f1, f2: no laser line found/);
});
