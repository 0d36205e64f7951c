import { expect, test } from 'vitest';
import { addTapeMark, deleteMark, moveMark, setMarkPlace } from '../../src/app/editMarks.ts';
import { setTape } from '../../src/app/editTapes.ts';
import { mergeFound } from '../../src/app/finding.svelte.ts';
import { makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import type { Survey, Tape, TapeReading } from '../../src/core/survey.ts';

const read: TapeReading = {
  legible: true,
  graduations: [{ at: 100, u: 20, v: 30, sigma: 0.1 }],
  rmsPx: 0.1,
  agree: 1,
  of: 1,
  misnamedMm: 0,
};
const base = makeSurvey('Wall', 3600, 2450, 'mm');
const facts = { widthPx: 400, heightPx: 300, focal35Mm: 26 };
const empty = makePhoto(base, 'photos/a.jpg', facts, { axis: 'level', colour: 'green' });
const mark = (u: number, v: number, along: number, up: number) => ({ u, v, along, up, sigma: 1 });
const marks = [
  mark(20, 30, 100, 700),
  mark(120, 30, 1200, 700),
  mark(320, 30, 3400, 700),
  mark(50, 90, 400, 1100),
];
const tape: Tape = { from: 0, to: 2, axis: 'along', pitch: 10, read };
const survey: Survey = { ...base, photos: [{ ...empty, marks, tapes: [tape] }] };
const tapeOf = (changed: Survey) => changed.photos[0]!.tapes[0]!;
const id = empty.id;

test('a mark that is moved or renamed drops what was read off its tape, ends and between', () => {
  for (const index of [0, 1, 2]) {
    expect(tapeOf(moveMark(survey, id, index, { u: 25, v: 30 })).read).toBeUndefined();
    expect(tapeOf(setMarkPlace(survey, id, index, { along: 50 })).read).toBeUndefined();
  }
});

test('a mark elsewhere, or a sigma, drops nothing', () => {
  expect(tapeOf(moveMark(survey, id, 3, { u: 25, v: 30 })).read).toBe(read);
  expect(tapeOf(setMarkPlace(survey, id, 0, { sigma: 2 })).read).toBe(read);
  expect(tapeOf(deleteMark(survey, id, 3)).read).toBe(read);
});

test('a tape that reaches further, ends sooner or is graduated otherwise is to be read anew', () => {
  const further = addTapeMark(survey, id, mark(340, 30, 3500, 700), { axis: 'along', pitch: 10 });
  expect(tapeOf(further)).toEqual({ from: 0, to: 4, axis: 'along', pitch: 10 });
  expect(tapeOf(deleteMark(survey, id, 2))).toEqual({ from: 0, to: 1, axis: 'along', pitch: 10 });
  expect(tapeOf(setTape(survey, id, 0, { pitch: 12.7 }))).toEqual({
    from: 0,
    to: 2,
    axis: 'along',
    pitch: 12.7,
  });
  expect(tapeOf(setTape(survey, id, 0, {})).read).toBeUndefined();
});

test('what was read joins the survey unless its tape or marks changed meanwhile', () => {
  const found = survey.photos[0]!;
  const unread = setTape(survey, id, 0, {});
  expect(tapeOf(mergeFound(unread, found)).read).toBe(read);
  expect(tapeOf(mergeFound(moveMark(unread, id, 0, { u: 21, v: 30 }), found)).read).toBeUndefined();
  expect(tapeOf(mergeFound(setTape(unread, id, 0, { pitch: 5 }), found)).read).toBeUndefined();
  expect(mergeFound({ ...unread, photos: [{ ...found, tapes: [] }] }, found).photos[0]!.tapes).toEqual([]);
});
