import { expect, test } from 'vitest';
import {
  findEvidence,
  findLine,
  isLeftOut,
  listLeftOut,
  setLeftOut,
  swapMarks,
  type Evidence,
} from '../../src/app/editLeftOut.ts';
import { recordStep, startHistory, undoStep } from '../../src/app/history.ts';
import { hashOfPlace, placeOfHash } from '../../src/app/place.svelte.ts';
import type { Residual } from '../../src/core/results.ts';
import { parseSurvey } from '../../src/file/survey.ts';
import { makeSurvey } from '../truth/survey.ts';

const { survey } = makeSurvey(3, 'plaster');
const all: readonly Evidence[] = [
  { kind: 'reading', reading: 'r2' },
  { kind: 'line', photo: 'f2', line: 'l750' },
  { kind: 'mark', photo: 'f4', mark: 1 },
  { kind: 'photo', photo: 'f6' },
];

test.each(all)('$kind: left out, listed, taken in again; undo brings back the very survey', (evidence) => {
  const out = setLeftOut(survey, evidence, true);
  expect(isLeftOut(survey, evidence)).toBe(false);
  expect(isLeftOut(out, evidence)).toBe(true);
  expect(listLeftOut(out)).toEqual([evidence]);
  expect(setLeftOut(out, evidence, true)).toBe(out);
  const back = setLeftOut(out, evidence, false);
  expect(back).toEqual(survey);
  expect(listLeftOut(back)).toEqual([]);
  const history = recordStep(startHistory(survey), out);
  expect(undoStep(history).present).toBe(survey);
});

test('all of them together, readings first, and through the file', () => {
  const out = all.reduce((each, evidence) => setLeftOut(each, evidence, true), survey);
  const kept = parseSurvey(JSON.parse(JSON.stringify(out)));
  expect(listLeftOut(kept)).toEqual(all);
});

test('what is left out with its photo is not listed by itself', () => {
  const mark: Evidence = { kind: 'mark', photo: 'f4', mark: 1 };
  const out = setLeftOut(setLeftOut(survey, mark, true), { kind: 'photo', photo: 'f4' }, true);
  expect(listLeftOut(out)).toEqual([{ kind: 'photo', photo: 'f4' }]);
  expect(isLeftOut(out, mark)).toBe(true);
  expect(isLeftOut(out, { kind: 'line', photo: 'f4', line: 'l1750' })).toBe(true);
});

test('asking for what is not there is a mistake of the page', () => {
  expect(() => setLeftOut(survey, { kind: 'reading', reading: 'r99' }, true)).toThrow(/reading/);
  expect(() => setLeftOut(survey, { kind: 'mark', photo: 'f1', mark: 9 }, true)).toThrow(/mark/);
  expect(() => setLeftOut(survey, { kind: 'line', photo: 'f1', line: 'l9' }, true)).toThrow(/line/);
});

test('a line is found by its own name or with its photo', () => {
  expect(findLine(survey, 'l750')).toEqual({ photo: 'f2', line: 'l750' });
  expect(findLine(survey, 'f2/l750')).toEqual({ photo: 'f2', line: 'l750' });
  expect(findLine(survey, 'f1/l750')).toBeNull();
});

test('a residual leads to what it is of; a stand, graduations and what is gone lead nowhere', () => {
  const of = (part: Partial<Residual>) => findEvidence(survey, part as Residual);
  expect(of({ kind: 'reading', subject: 'r2' })).toEqual(all[0]);
  expect(of({ kind: 'line', subject: 'l750', part: 'tilt' })).toEqual(all[1]);
  expect(of({ kind: 'mark', subject: 'f4', index: 1 })).toEqual(all[2]);
  expect(of({ kind: 'mark', subject: 'f4', index: -1 })).toBeNull();
  expect(of({ kind: 'mark', subject: 'f4', index: 7 })).toBeNull();
  expect(of({ kind: 'stand', subject: 'f4', part: 'up' })).toBeNull();
  expect(of({ kind: 'reading', subject: 'r99' })).toBeNull();
});

test('swapped marks keep their places on the wall and exchange their spots; twice is as before', () => {
  const read = { legible: true, graduations: [], rmsPx: 0.1, agree: 9, of: 9, misnamedMm: 0 };
  const photos = survey.photos.map((each) => ({
    ...each,
    tapes: each.tapes.map((tape) => ({ ...tape, read })),
  }));
  const taped = { ...survey, photos };
  const swapped = swapMarks(taped, 'f4', 1, 2);
  const [before, after] = [taped.photos[3]!, swapped.photos[3]!];
  expect(after.marks[1]).toEqual({ ...before.marks[1]!, u: before.marks[2]!.u, v: before.marks[2]!.v });
  expect(after.marks[2]).toEqual({ ...before.marks[2]!, u: before.marks[1]!.u, v: before.marks[1]!.v });
  expect(after.tapes.map((tape) => tape.read)).toEqual([undefined]);
  expect(swapped.photos[0]).toBe(taped.photos[0]);
  expect(swapMarks(swapped, 'f4', 1, 2).photos[3]!.marks).toEqual(before.marks);
});

test('an address leads to a reading, a part of a photo, the report, and back', () => {
  const part = 'line f/1 é';
  expect(placeOfHash(hashOfPlace('photos', 'f 2', part))).toEqual({ name: 'photos', photo: 'f 2', part });
  expect(placeOfHash(hashOfPlace('readings', 'r3'))).toEqual({ name: 'readings', photo: null, part: 'r3' });
  expect(placeOfHash('#surface/report')).toEqual({ name: 'surface', photo: null, part: 'report' });
  expect(placeOfHash('#photos/')).toEqual({ name: 'photos', photo: null, part: null });
  expect(placeOfHash('')).toEqual({ name: 'surveys', photo: null, part: null });
});
