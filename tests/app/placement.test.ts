import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { addTapeMark, addMark, setStand } from '../../src/app/editMarks.ts';
import { setSheet } from '../../src/app/editLines.ts';
import { askNext, placeKey, proposePlacement } from '../../src/app/placement.ts';
import { makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import type { Survey } from '../../src/core/survey.ts';

const sample = JSON.parse(
  readFileSync(new URL('../../samples/dairy-north-wall/survey.json', import.meta.url), 'utf8'),
) as Survey;

/** The sample's wall with its first photos as they are and the next one bare. */
function bareAfter(count: number, axis: 'level' | 'plumb'): Survey {
  const photos = sample.photos.slice(0, count);
  const facts = { widthPx: 4032, heightPx: 3024, focal35Mm: 26 };
  const next = makePhoto({ ...sample, photos }, 'photos/next.jpg', facts, { axis, colour: 'green' });
  return { ...sample, photos: [...photos, next] };
}
const corners = [
  { along: 1500, up: 2000, kind: 'corner' },
  { along: 2200, up: 900, kind: 'corner' },
];
const nothing = { tapeMm: null, skipped: [] };

test('the first photo of a kind is asked for the ends of the tape and corners of the opening', () => {
  const level = bareAfter(0, 'level');
  expect(proposePlacement(level, 'f1')).toEqual({
    lineMm: null,
    tapeMm: null,
    readings: [100, 3500],
    places: corners,
  });
  const plumb = bareAfter(5, 'plumb');
  expect(proposePlacement(plumb, 'f6')).toMatchObject({
    lineMm: null,
    readings: [100, 2350],
    places: corners,
  });
});

test('a later photo goes on from the one before: the step again, the tape as far from the line, the same places', () => {
  // heights 200, 750, 1250; the tape 75 under the line at 1250
  expect(proposePlacement(bareAfter(3, 'level'), 'f4')).toEqual({
    lineMm: 1750,
    tapeMm: 1675,
    readings: [100, 3500],
    places: corners,
  });
  // the next step would be beyond the ceiling
  expect(proposePlacement(bareAfter(5, 'level'), 'f6').lineMm).toBeNull();
  const typed = setSheet(bareAfter(1, 'level'), 'f2', 'l1', { at: 750 });
  expect(proposePlacement(typed, 'f2')).toMatchObject({ lineMm: null, tapeMm: 685 });
});

test('every question follows from the survey: line, tape, its two readings, two corners, done', () => {
  let survey = bareAfter(3, 'level');
  const ask = (told = nothing as Parameters<typeof askNext>[2]) => askNext(survey, 'f4', told);
  expect(ask()).toEqual({ kind: 'line', line: 'l1' });
  survey = setSheet(survey, 'f4', 'l1', { at: 1750 });
  expect(ask()).toEqual({ kind: 'tape' });
  const told = { tapeMm: 1705, skipped: [] };
  expect(ask(told)).toEqual({ kind: 'mark', place: { along: 100, up: 1705, kind: 'tape' } });
  const tape = { axis: 'along', pitch: 10 } as const;
  survey = addTapeMark(survey, 'f4', { u: 300, v: 800, along: 100, up: 1705, sigma: 1 }, tape);
  // the first mark tells where the tape lies
  expect(ask()).toEqual({ kind: 'mark', place: { along: 3500, up: 1705, kind: 'tape' } });
  survey = addTapeMark(survey, 'f4', { u: 3600, v: 800, along: 3500, up: 1705, sigma: 1 }, tape);
  expect(ask()).toEqual({ kind: 'mark', place: corners[0] });
  expect(askNext(setStand(survey, 'f4', { off: 2700, up: 800 }), 'f4', nothing)).toEqual({ kind: 'done' });
  survey = addMark(survey, 'f4', { u: 1700, v: 600, along: 1500, up: 2000, sigma: 1 });
  expect(ask({ tapeMm: null, skipped: [placeKey({ along: 2200, up: 900, kind: 'corner' })] })).toEqual({
    kind: 'free',
  });
  survey = addMark(survey, 'f4', { u: 2400, v: 1660, along: 2200, up: 900, sigma: 1 });
  expect(ask()).toEqual({ kind: 'done' });
});

test('a wall without openings asks for free places after the tape, and without a tape for free places only', () => {
  const bare = makeSurvey('Loft', 3000, 2400, 'mm');
  const facts = { widthPx: 4032, heightPx: 3024, focal35Mm: null };
  const photo = makePhoto(bare, 'photos/a.jpg', facts, { axis: 'level', colour: 'red' });
  const survey = setSheet({ ...bare, photos: [photo] }, 'f1', 'l1', { at: 1000 });
  expect(askNext(survey, 'f1', { tapeMm: null, skipped: ['tape'] })).toEqual({ kind: 'free' });
  const onTape = [100, 2900].reduce(
    (each, along) => addMark(each, 'f1', { u: along, v: 900, along, up: 940, sigma: 1 }),
    survey,
  );
  expect(askNext(onTape, 'f1', nothing)).toEqual({ kind: 'free' });
});
