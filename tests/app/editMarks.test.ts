import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  addMark,
  addTapeMark,
  deleteMark,
  moveMark,
  setMarkPlace,
  setStand,
} from '../../src/app/editMarks.ts';
import { addTape, removeTape, setTape } from '../../src/app/editTapes.ts';
import { makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import type { Mark, Survey, Tape } from '../../src/core/survey.ts';

const facts = { widthPx: 400, heightPx: 300, focal35Mm: null };
const base = makeSurvey('Wall', 3600, 2450, 'mm');
const empty: Survey = {
  ...base,
  photos: [makePhoto(base, 'photos/a.jpg', facts, { axis: 'level', colour: 'green' })],
};
const photoOf = (survey: Survey) => survey.photos[0]!;
const markAt = (along: number, up: number): Mark => ({
  u: along / 10,
  v: 200 - up / 10,
  along,
  up,
  sigma: 1,
});
const level = { axis: 'along', pitch: 10 } as const;

test('marks read off one tape make it and make it longer, whatever order they are read in', () => {
  let survey = addTapeMark(empty, 'f1', markAt(1000, 760), level);
  expect(photoOf(survey).tapes).toEqual([]);
  survey = addTapeMark(survey, 'f1', markAt(100, 760), level);
  expect(photoOf(survey).tapes).toEqual([{ from: 1, to: 0, axis: 'along', pitch: 10 }]);
  survey = addTapeMark(survey, 'f1', markAt(3500, 760), level);
  survey = addTapeMark(survey, 'f1', markAt(2000, 760), level);
  expect(photoOf(survey).tapes).toEqual([{ from: 1, to: 2, axis: 'along', pitch: 10 }]);
});

test('a mark at another height is on another tape', () => {
  let survey = addTapeMark(empty, 'f1', markAt(100, 760), level);
  survey = addTapeMark(survey, 'f1', markAt(900, 760), level);
  survey = addTapeMark(survey, 'f1', markAt(100, 1500), level);
  survey = addTapeMark(survey, 'f1', markAt(800, 1500), level);
  expect(photoOf(survey).tapes).toEqual([
    { from: 0, to: 1, axis: 'along', pitch: 10 },
    { from: 2, to: 3, axis: 'along', pitch: 10 },
  ]);
});

test('marks and stand change by themselves', () => {
  const one = addMark(empty, 'f1', markAt(100, 760));
  const moved = moveMark(one, 'f1', 0, { u: 11.5, v: 124.25 });
  const placed = setMarkPlace(moved, 'f1', 0, { along: 110 });
  expect(photoOf(placed).marks).toEqual([{ u: 11.5, v: 124.25, along: 110, up: 760, sigma: 1 }]);
  expect(photoOf(setStand(placed, 'f1', { off: 2500 })).stand).toEqual({
    off: 2500,
    up: null,
    along: null,
    sigma: 10,
  });
  expect(() => moveMark(one, 'f1', 1, { u: 0, v: 0 })).toThrow('expected an index below 1, got 1');
});

test('a tape lies between two marks that are there', () => {
  const two = addMark(addMark(empty, 'f1', markAt(100, 760)), 'f1', markAt(900, 760));
  const laid = addTape(two, 'f1', { from: 0, to: 1, axis: 'along', pitch: 10 });
  expect(photoOf(setTape(laid, 'f1', 0, { pitch: 12.7 })).tapes[0]!.pitch).toBe(12.7);
  expect(photoOf(removeTape(laid, 'f1', 0)).tapes).toEqual([]);
  expect(() => setTape(laid, 'f1', 0, { to: 2 })).toThrow('expected an index below 2, got 2');
  expect(() => setTape(laid, 'f1', 0, { to: 0 })).toThrow('0 twice');
});

test('a tape whose end is taken away ends at the next mark on it, and goes with its last but one', () => {
  let survey = empty;
  for (const along of [100, 1200, 2400, 3500]) survey = addTapeMark(survey, 'f1', markAt(along, 760), level);
  survey = deleteMark(survey, 'f1', 3);
  expect(photoOf(survey).tapes).toEqual([{ from: 0, to: 2, axis: 'along', pitch: 10 }]);
  survey = deleteMark(survey, 'f1', 0);
  expect(photoOf(survey).tapes).toEqual([{ from: 0, to: 1, axis: 'along', pitch: 10 }]);
  expect(photoOf(survey).marks[0]!.along).toBe(1200);
  expect(photoOf(deleteMark(survey, 'f1', 0)).tapes).toEqual([]);
});

test('whatever is added and taken away, every tape lies between the marks it meant', () => {
  const edit = fc.record({ add: fc.boolean(), pick: fc.nat(99), along: fc.nat(35), row: fc.nat(2) });
  fc.assert(
    fc.property(fc.array(edit, { maxLength: 40 }), (edits) => {
      let survey = empty;
      let plain: Mark[] = [];
      for (const { add, pick, along, row } of edits) {
        const { marks } = photoOf(survey);
        if (add) {
          const mark = markAt(along * 100, row * 700);
          survey = addTapeMark(survey, 'f1', mark, level);
          plain.push(mark);
        } else if (marks.length > 0) {
          survey = deleteMark(survey, 'f1', pick % marks.length);
          plain = plain.filter((_, index) => index !== pick % marks.length);
        }
        expect(photoOf(survey).marks).toEqual(plain);
        expectTapesHold(photoOf(survey).tapes, plain);
      }
    }),
    { seed: 21, numRuns: 300 },
  );
});

/** Each tape's ends are two marks at its height, and no two tapes lie at one height. */
function expectTapesHold(tapes: readonly Tape[], marks: readonly Mark[]): void {
  for (const tape of tapes) {
    expect(tape.from).not.toBe(tape.to);
    expect(marks[tape.from]!.up).toBe(marks[tape.to]!.up);
  }
  const heights = tapes.map((tape) => marks[tape.from]!.up);
  expect(new Set(heights).size).toBe(heights.length);
}
