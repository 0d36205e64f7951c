import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { addReadings } from '../../../src/app/editReadings.ts';
import { makeSurvey } from '../../../src/app/newSurvey.ts';
import { isTable, readReadings, writeReadings } from '../../../src/ui/wall/readingText.ts';

const survey = makeSurvey('Wall', 3600, 2450, 'mm');
const inches = makeSurvey('Wall', 3600, 2450, 'inch');
const one = { along: 1200, up: 900, distance: 61.5 };

describe('rows are read', () => {
  test.each([
    ['tabs', '1200\t900\t61.5'],
    ['semicolons and a decimal comma', '1200;900;61,5'],
    ['several spaces', '1200   900  61.5'],
    ['single spaces between bare figures', '1200 900 61.5'],
    ['units in the cells', '1,2 m; 90 cm; 6.15cm'],
    ['a name before them', 'r4\t1200\t900\t61.5'],
    ['an empty column behind them', '1200\t900\t61.5\t\t'],
    ['a line above them', 'Rule on Monday\n1200\t900\t61.5'],
    ['a head with another order', 'Plane to wall\tFloor\tLeft\n61.5\t900\t1200'],
    ['a head with units and a number', 'No.\tx (m)\ty (cm)\tdistance (mm)\n7\t1.2\t90\t61.5'],
  ])('%s', (_, text) => {
    expect(readReadings(text, survey)).toMatchObject({ readings: [one], wrong: [] });
  });

  test('a fourth column is the uncertainty; without it there is none', () => {
    expect(readReadings('1200\t900\t61.5\t0.5', survey).readings).toEqual([{ ...one, sigma: 0.5 }]);
    expect(readReadings('1200\t900\t61.5', survey).readings).toEqual([one]);
  });

  test('fractions of an inch', () => {
    const [read] = readReadings(`61 1/2"\t3' 1"\t2 7/16`, inches).readings;
    expect(read!.along).toBeCloseTo(61.5 * 25.4, 9);
    expect(read!.up).toBeCloseTo(37 * 25.4, 9);
    expect(read!.distance).toBeCloseTo((39 / 16) * 25.4, 9);
  });
});

describe('what cannot be read is told by row, and the others are taken', () => {
  test('with the reason', () => {
    const { readings, wrong } = readReadings(
      [
        'left;floor;plane',
        '1200;900;61.5',
        '1200;9oo;61',
        '4000;900;61',
        '1;2',
        '1;2;-900',
        '1,200;900;61',
      ].join('\n'),
      survey,
    );
    expect(readings).toEqual([one]);
    expect(wrong.map(({ row, reason }) => [row, reason])).toEqual([
      [3, '"9oo" is no length'],
      [4, 'from the left 4000 mm is not within 0 mm to 3600 mm'],
      [5, 'plane to wall is missing'],
      [6, 'plane to wall −900 mm is not within −500 mm to 2000 mm'],
      [7, '"1,200" can be 1200 or 1.2: write it without the comma'],
    ]);
  });

  test('too few or too many columns, and a text without any length', () => {
    const { readings, wrong } = readReadings('1\t2\n1\t2\t3\t4\t5', survey);
    expect(readings).toEqual([]);
    expect(wrong.map(({ reason }) => reason)).toEqual([
      'it has 2 columns, not 3 or 4',
      'it has 5 columns, not 3 or 4',
    ]);
    expect(readReadings('left\tfloor\tplane', survey).wrong).toHaveLength(1);
    expect(readReadings('\n  \n', survey)).toEqual({ readings: [], wrong: [], head: '' });
  });

  test('a typing slip in the first column is no name', () => {
    expect(readReadings('12oo\t900\t61\t0.7', survey).readings).toEqual([]);
  });
});

test('no row is lost: each with something in it is read, told or a head', () => {
  const cell = fc.oneof(
    fc.constantFrom('1200', '61,5', 'abc', '', '6 cm', '61 1/2"'),
    fc.string({ maxLength: 5 }),
  );
  const rows = fc.array(fc.array(cell, { maxLength: 6 }), { maxLength: 6 });
  fc.assert(
    fc.property(rows, fc.constantFrom('\t', ';', '  '), (cells, mark) => {
      const text = cells.map((row) => row.map((each) => each.replace(/[\r\n]/g, '')).join(mark)).join('\n');
      const { readings, wrong, head } = readReadings(text, survey);
      const count = (of: string) => of.split(/\r\n|\r|\n/).filter((line) => line.trim() !== '').length;
      expect(readings.length + wrong.length + count(head)).toBe(count(text));
    }),
    { seed: 21 },
  );
});

test('what is copied out is read again as it was, in either unit', () => {
  const length = (most: number) => fc.integer({ min: 20, max: most * 10 }).map((tenths) => tenths / 10);
  const rows = fc.array(
    fc.record({ along: length(3600), up: length(2450), distance: length(2000), sigma: length(20) }),
    { minLength: 1, maxLength: 5 },
  );
  fc.assert(
    fc.property(rows, fc.constantFrom(survey, inches), (added, empty) => {
      const { readings, wrong } = readReadings(writeReadings(addReadings(empty, added)), empty);
      expect(wrong).toEqual([]);
      readings.forEach((reading, k) => {
        for (const key of ['along', 'up', 'distance', 'sigma'] as const)
          expect(reading[key]).toBeCloseTo(added[k]![key], 2);
      });
      expect(readings).toHaveLength(added.length);
    }),
    { seed: 22 },
  );
});

test('one length is no table', () => {
  for (const text of ['61.5', `61 1/2"`, ' 6 cm ', `5' 1 1/2"`, '61\n'])
    expect(isTable(text), text).toBe(false);
  for (const text of ['1\t2', '1;2', '1\n2', '1  2', '1 2 3']) expect(isTable(text), text).toBe(true);
});
