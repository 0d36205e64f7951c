import { expect, test } from 'vitest';
import type { Mark, Tape, TapeReading } from '../../../src/core/survey.ts';
import { needsLook, tapeWords } from '../../../src/ui/photo/tapeWords.ts';
import { Table } from './table.svelte.ts';

const marks: Mark[] = [100, 2000].map((along) => ({ u: along, v: 10, along, up: 700, sigma: 1 }));
const read: TapeReading = {
  legible: true,
  graduations: [],
  rmsPx: 0.123,
  agree: 178,
  of: 190,
  misnamedMm: 0,
};
const tape = (part: Partial<TapeReading> | null): Tape => ({
  from: 0,
  to: 1,
  axis: 'along',
  pitch: 10,
  ...(part ? { read: { ...read, ...part } } : {}),
});

test('a reading is told in words', () => {
  const say = (part: Partial<TapeReading> | null) => tapeWords(tape(part), marks, 'mm');
  expect(say(null)).toBe('Not read yet: the marks stand as they were set.');
  expect(say({})).toBe('178 of 190 graduations read, they agree to 0.12 px.');
  expect(say({ legible: false })).toMatch(/could not be read/);
  expect(say({ misnamedMm: 100 })).toMatch(/mark 2, named 2000, seems to be at 1900 mm/);
  expect(needsLook(tape({ misnamedMm: 100 }))).toBe(true);
  expect(needsLook(tape({}))).toBe(false);
});

test('two taps measure, a third begins anew, and nothing of the survey changes', () => {
  const table = new Table();
  table.work.takeTool('measure');
  table.tap(100, 100);
  expect(table.work.span).toEqual({ from: { u: 100, v: 100 }, to: null });
  table.tap(200, 100);
  expect(table.work.span!.to).toEqual({ u: 200, v: 100 });
  table.tap(50, 60);
  expect(table.work.span).toEqual({ from: { u: 50, v: 60 }, to: null });
  expect(table.changes).toBe(0);
});
