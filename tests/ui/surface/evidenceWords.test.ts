import { describe, expect, test } from 'vitest';
import { setLeftOut, swapMarks } from '../../../src/app/editLeftOut.ts';
import type { Residual, Solution } from '../../../src/core/results.ts';
import { solveSurvey } from '../../../src/core/solve/solve.ts';
import type { Survey } from '../../../src/core/survey.ts';
import { isNamed, listDisagreements } from '../../../src/ui/surface/disagreements.ts';
import {
  mendHash,
  nameResidual,
  sayAmount,
  sayCheck,
  sayExpected,
} from '../../../src/ui/surface/evidenceWords.ts';
import { countUsed, listAllLeftOut, listPhotoRows } from '../../../src/ui/surface/reportFigures.ts';
import { makeSurvey } from '../../truth/survey.ts';

const { survey } = makeSurvey(3, 'plaster');
const residual = (part: Partial<Residual>): Residual => ({
  kind: 'reading',
  subject: 'r3',
  part: 'distance',
  residualMm: -5.6,
  sigmaMm: 0.7,
  w: -10.9,
  redundancy: 0.57,
  detectableMm: 3.9,
  errorMm: -9.8,
  state: 'left_out',
  ...part,
});

describe('names and amounts', () => {
  test.each<[Partial<Residual>, string, string]>([
    [{}, 'reading r3', 'reads 9.8 mm too long (±0.9 mm)'],
    [{ errorMm: 9.8 }, 'reading r3', 'reads 9.8 mm too short (±0.9 mm)'],
    [{ state: 'unsure' }, 'reading r3', 'reads 9.8 mm too long'],
    [
      { kind: 'line', subject: 'l750', part: 'shift', errorMm: 102, w: 96 },
      'line at 750 mm in photo f2',
      'its height seems 102 mm too high (±1.1 mm)',
    ],
    [
      { kind: 'line', subject: 'f2/l750', part: 'tilt', errorMm: -2, w: -8 },
      'line at 750 mm in photo f2',
      'seems tilted 4 mm over its length: was the laser bumped?',
    ],
    [
      { kind: 'line', subject: 'p432', part: 'shift', errorMm: -12, w: -12 },
      'plumb line at 432 mm in photo f6',
      'its place seems 12 mm too far left (±1 mm)',
    ],
    [
      { kind: 'mark', subject: 'f4', part: 'along', index: 1, errorMm: -52, w: -52 },
      'mark 2 of photo f4',
      'seems 52 mm out of place along the wall (±1 mm)',
    ],
    [
      { kind: 'mark', subject: 'f4', part: 'up', index: -1, errorMm: 3, w: 6 },
      'tape of photo f4',
      'seems 3 mm out of place up or down (±0.5 mm)',
    ],
    [
      { kind: 'stand', subject: 'f5', part: 'off', errorMm: 200, w: 20 },
      "phone's distance off the laser's plane, photo f5",
      'seems 200 mm too far off (±10 mm)',
    ],
    [
      { kind: 'block', subject: 'f3', part: 'thickness', index: 0, errorMm: 1.2, w: 4 },
      'packer 1 of photo f3',
      'seems 1.2 mm too thick (±0.3 mm)',
    ],
    [{ errorMm: NaN }, 'reading r3', 'does not agree, by how much cannot be told'],
  ])('%o', (part, name, amount) => {
    expect(nameResidual(survey, residual(part))).toBe(name);
    expect(sayAmount(survey, residual(part))).toBe(amount);
  });

  test('in inches', () => {
    expect(sayAmount({ ...survey, units: 'inch' }, residual({ errorMm: -12.7, w: -8 }))).toBe(
      'reads 1/2 in too long (±1/16 in)',
    );
  });

  test('how far it is checked is told from well to not at all', () => {
    const words = [0.6, 0.3, 0.05, 0].map((redundancy) => sayCheck(residual({ redundancy }), 'mm'));
    expect(new Set(words).size).toBe(4);
    expect(words[0]).toBe('The rest checks it well: an error of 3.9 mm or more would be found.');
    expect(words[3]).toBe('Nothing else checks it.');
    expect(sayCheck(residual({ detectableMm: NaN }), 'mm')).toBe('Nothing else checks it.');
  });

  test('where each is put right', () => {
    const hash = (part: Partial<Residual>) => mendHash(survey, residual(part));
    expect(hash({})).toBe('#readings/r3');
    expect(hash({ kind: 'line', subject: 'l750' })).toBe('#photos/f2/line%20l750');
    expect(hash({ kind: 'mark', subject: 'f4', index: 1 })).toBe('#photos/f4/mark%202');
    expect(hash({ kind: 'mark', subject: 'f4', index: -1 })).toBe('#photos/f4/marks');
    expect(hash({ kind: 'stand', subject: 'f4', part: 'up' })).toBe('#photos/f4/stand');
    expect(hash({ kind: 'line', subject: 'gone' })).toBeNull();
  });
});

/** A smaller wall, quick to solve. */
const small = makeSurvey(3, 'plaster', {
  ...{ width: 2400, height: 2000, everyPx: 40 },
  ...{ levels: [300, 750, 1250, 1700], plumbs: [400, 2000] },
}).survey;

/** The small survey with one thing made wrong. */
const wrong = {
  reading: (byMm: number): Survey => ({
    ...small,
    readings: small.readings.map((each) =>
      each.id === 'r3' ? { ...each, distance: each.distance + byMm } : each,
    ),
  }),
  height: (byMm: number): Survey => ({
    ...small,
    photos: small.photos.map((photo) => ({
      ...photo,
      lines: photo.lines.map((line) =>
        line.id === 'l750' ? { ...line, sheet: { ...line.sheet, at: line.sheet.at! + byMm } } : line,
      ),
    })),
  }),
};

const namesOf = (each: Survey, solution: Solution) =>
  listDisagreements(each, solution).flatMap(({ items }) =>
    items.map((item) => nameResidual(each, item.residual)),
  );

describe('of a solved survey with one thing wrong', () => {
  test('a height typed 100 mm too high is said so', () => {
    const high = wrong.height(100);
    const solution = solveSurvey(high);
    const group = listDisagreements(high, solution).find(({ kind }) => kind === 'line')!;
    const { residual: found, evidence } = group.items[0]!;
    expect(evidence).toEqual({ kind: 'line', photo: 'f2', line: 'l750' });
    const words = sayAmount(high, found);
    expect(words).toMatch(/too high/);
    const sizeMm = Number(/seems ([\d.]+) mm/.exec(words)![1]);
    expect(Math.abs(sizeMm - 100)).toBeLessThan(5);
    const expectedMm = Number(/about ([\d.]+) ±/.exec(sayExpected(high, found)!)![1]);
    expect(Math.abs(expectedMm - 750)).toBeLessThan(5);
    expect(listAllLeftOut(high, solution).some(({ why }) => /left out by the test$/.test(why))).toBe(true);
  });

  test.each([10, -10])(
    'a reading wrong by %d mm: it or those that fail alike, said as it was made wrong',
    (byMm) => {
      const long = wrong.reading(byMm);
      const solution = solveSurvey(long);
      const groups = listDisagreements(long, solution);
      const item = groups.flatMap(({ items }) => items).find((each) => each.residual.subject === 'r3')!;
      const words = sayAmount(long, item.residual);
      expect(words).toMatch(byMm > 0 ? /too long/ : /too short/);
      expect(Math.abs(Number(/reads ([\d.]+) mm/.exec(words)![1]) - 10)).toBeLessThan(4);
      // once left out by hand it is no longer among them, and its warning is not told twice
      const out = setLeftOut(long, item.evidence!, true);
      expect(namesOf(out, solution)).not.toContain('reading r3');
      const warning = solution.warnings.find(({ subject }) => subject === 'r3')!;
      expect(isNamed(groups, solution.residuals, warning)).toBe(true);
      expect(isNamed(groups, solution.residuals, { code: 'no_readings', subject: 'wall' })).toBe(false);
      const again = solveSurvey(out);
      expect(namesOf(out, again)).not.toContain('reading r3');
      const tested = again.residuals.find(({ subject }) => subject === 'r3')!;
      expect(tested.state).toBe('by_hand');
      expect(sayAmount(out, tested)).toMatch(byMm > 0 ? /too long/ : /too short/);
      const count = countUsed(out, again).find(({ name }) => name === 'Readings')!;
      expect(count).toEqual({ name: 'Readings', used: 5, of: 6 });
    },
  );

  test('two swapped marks: their photo is named, with its marks or whole, and its rows are each there once', () => {
    const swapped = swapMarks(small, 'f4', 1, 2);
    const solution = solveSurvey(swapped);
    const group = listDisagreements(swapped, solution).find(({ photo }) => photo === 'f4')!;
    expect(group.kind).toBe('photo');
    const rows = listPhotoRows(swapped, swapped.photos[0]!, solution);
    expect(new Set(rows.map(({ name }) => name)).size).toBe(rows.length);
    expect(rows.map(({ name }) => name)).toContain('line 300 mm height');
  });
});
