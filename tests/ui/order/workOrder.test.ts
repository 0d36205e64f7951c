import { expect, test } from 'vitest';
import type { Batch, WorkStep } from '../../../src/core/liningPlan.ts';
import { countDone, groupSteps, idOfBatch, sayBatchUse } from '../../../src/ui/order/workOrder.ts';

const step = (id: string, stage: WorkStep['stage'], code: WorkStep['code'], of: string[] = []) =>
  ({ id, stage, code, of, figures: {}, cautions: [] }) as unknown as WorkStep;
const batch = (number: number, boards: string[], trial = false): Batch => ({
  number,
  boards,
  trial,
  powderKg: 10,
  waterL: 5,
  volumeL: 9,
  minutes: 20,
});

test('steps stand under their stages in their order and are numbered through', () => {
  const work = [
    step('a', 'prepare', 'bring'),
    step('b', 'prepare', 'clear_wall'),
    step('c', 'fix', 'mix', ['1']),
    step('d', 'wait', 'let_go'),
    step('e', 'fix', 'mix', ['2']),
  ];
  const groups = groupSteps(work);
  expect(groups.map(({ stage, first }) => [stage, first])).toEqual([
    ['prepare', 1],
    ['fix', 3],
    ['wait', 4],
    ['fix', 5],
  ]);
  expect(groups.flatMap(({ steps }) => steps)).toEqual(work);
  expect(groupSteps([])).toEqual([]);
});

test('a mix is ticked off together with its step, buckets of one step as one, and by itself where it has none', () => {
  const work = [
    step('trial', 'fix', 'mix_trial', ['1']),
    step('mix for A', 'fix', 'mix', ['2']),
    step('mix for B', 'fix', 'mix', ['3', '4']),
    step('fix A', 'fix', 'fix_board', ['2']),
  ];
  const ids = [1, 2, 3, 4, 5].map((number) => idOfBatch(batch(number, []), work));
  expect(ids).toEqual(['trial', 'mix for A', 'mix for B', 'mix for B', 'mix 5']);
});

test('only what is in the list counts as done', () => {
  expect(countDone(['a', 'b', 'c'], ['c', 'x', 'a'])).toBe(2);
  expect(countDone(['a'], undefined)).toBe(0);
});

test('a mix says what it is for', () => {
  expect(sayBatchUse(batch(1, ['packing', 'A'], true))).toBe('trial: packing strips, A');
  expect(sayBatchUse(batch(1, [], true))).toBe('trial: the powder and the pace');
  expect(sayBatchUse(batch(2, ['B', 'C']))).toBe('B, C');
});
