import { expect, test } from 'vitest';
import {
  addSize,
  listStockSizes,
  nameSize,
  removeSize,
  sizeGroups,
} from '../../../src/ui/boards/stockSizes.ts';
import { makeSurvey } from '../../draw/walls.ts';

const survey = makeSurvey();
const long = { width: 1200, length: 2600 };

test('a size is added to the stock once, the survey otherwise as it was', () => {
  const added = addSize(survey, long);
  expect(listStockSizes(added.lining)).toEqual([{ width: 1200, length: 2400 }, long]);
  expect(added.lining.board).toEqual(survey.lining.board);
  expect(addSize(added, long)).toBe(added);
  expect(addSize(survey, { width: 1200, length: 2400 })).toBe(survey);
});

test('taking away the first size makes the next one the board, its thickness kept; the last one stays', () => {
  const left = removeSize(addSize(survey, long), { width: 1200, length: 2400 });
  expect(left.lining.board).toEqual({ width: 1200, length: 2600, thickness: 12.5 });
  expect(left.lining).not.toHaveProperty('stock');
  expect(removeSize(left, long)).toBe(left);
});

test('adding and taking away a size comes back to the same lining', () => {
  expect(removeSize(addSize(survey, long), long).lining).toEqual(survey.lining);
});

test('inch sizes are whole feet long and named in inches', () => {
  expect(nameSize({ width: 1219.2, length: 2438.4 }, 'inch')).toBe('48 × 96 in');
  expect(nameSize({ width: 1200, length: 2400 }, 'mm')).toBe('1200 × 2400 mm');
  expect(sizeGroups.inch[0]!.lengths.map((length) => Math.round(length / 304.8))).toEqual([8, 9, 10, 12, 14]);
  expect(sizeGroups.mm.map(({ width }) => width)).toEqual([600, 900, 1200, 1250]);
});
