import { expect, test } from 'vitest';
import { makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import type { Photo, Survey } from '../../src/core/survey.ts';
import { nextPlace, photoNeeds, standingOf } from '../../src/ui/standing.ts';

const empty = makeSurvey('Wall', 3600, 2450, 'mm');
const facts = { widthPx: 4000, heightPx: 3000, focal35Mm: 26 };
const newPhoto = makePhoto(empty, 'photos/a.jpg', facts, { axis: 'level', colour: 'green' });
const mark = { u: 1, v: 1, along: 0, up: 0, sigma: 1 };
const point = { u: 1, v: 1, sigma: 0.1, state: 'found' } as const;
const reading = { id: 'r1', along: 0, up: 0, distance: 60, sigma: 0.7 };
const atHeight = (photo: Photo, at: number | null): Photo => ({
  ...photo,
  lines: photo.lines.map((line) => ({ ...line, sheet: { ...line.sheet, at } })),
});

test('a photo asks for one thing after the other, then for nothing', () => {
  expect(photoNeeds({ ...newPhoto, lines: [] })).toBe('say which line it shows');
  expect(photoNeeds(newPhoto)).toBe('type the height of the line');
  const high = atHeight(newPhoto, 800);
  expect(photoNeeds(high)).toBe('set marks on the tape');
  expect(photoNeeds({ ...high, marks: [mark] })).toBe('set one more mark');
  expect(photoNeeds({ ...high, marks: [mark, mark] })).toBe('type where the phone stood');
  const stood = { ...high, marks: [mark, mark], stand: { off: 2500, up: 1800, along: null, sigma: 10 } };
  expect(photoNeeds(stood)).toBe('find the line');
  expect(photoNeeds({ ...stood, lines: [{ ...stood.lines[0]!, points: [point] }] })).toBeNull();
});

test('the places of a new survey say what to bring, and readings come first', () => {
  const standing = standingOf(empty, 'none', false);
  expect(standing.wall).toEqual({ needs: false, line: '3600 mm wide, 2450 mm high' });
  expect(standing.readings.line).toBe('Take at least 3 rule readings');
  expect(standing.photos.line).toBe('Add photos of the laser line');
  expect(standing.surface.line).toBe('Bring a found line or 3 readings');
  expect(nextPlace(standing)).toBe('readings');
});

test('with everything there nothing is next; a change makes the surface next again', () => {
  const photo = { ...atHeight(newPhoto, 800), marks: [mark, mark, mark, mark] };
  const done = { ...photo, lines: [{ ...photo.lines[0]!, points: [point] }] };
  const survey: Survey = { ...empty, readings: [reading, reading, reading], photos: [done] };
  expect(nextPlace(standingOf(survey, 'fresh', true))).toBeNull();
  const old = standingOf(survey, 'old', true);
  expect(old.surface).toEqual({ needs: true, line: 'The survey changed: solve again' });
  expect(nextPlace(old)).toBe('surface');
  expect(nextPlace(standingOf({ ...survey, readings: [reading] }, 'old', true))).toBe('readings');
});
