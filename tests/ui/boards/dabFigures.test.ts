import { expect, test } from 'vitest';
import { sayRange, sumDabs } from '../../../src/ui/boards/dabFigures.ts';
import { makeDabbed } from '../../draw/boardCases.ts';

const { plan, board } = makeDabbed();

test('dabs, dabs on packing and strips are counted apart and add up to all', () => {
  const rows = sumDabs(plan, board.id);
  expect(rows.map(({ name, count }) => [name, count])).toEqual([
    ['dabs', 9],
    ['dabs on packing', 1],
    ['bottom strip', 1],
  ]);
  const total = plan.dabs.reduce((sum, { volumeL }) => sum + volumeL, 0);
  expect(rows.reduce((sum, { volumeL }) => sum + volumeL, 0)).toBeCloseTo(total, 12);
  expect(rows[0]!.depth).toEqual({ leastMm: 8, mostMm: 26 });
});

test('of a board without dabs there are no rows', () => {
  expect(sumDabs(plan, 'Z')).toEqual([]);
});

test('a range is one figure where both ends read the same', () => {
  expect(sayRange({ leastMm: 5.9, mostMm: 26.2 }, 'mm')).toBe('6–26');
  expect(sayRange({ leastMm: 99.8, mostMm: 100.2 }, 'mm')).toBe('100');
});
