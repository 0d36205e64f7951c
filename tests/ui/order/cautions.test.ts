import { expect, test } from 'vitest';
import type { WorkCaution } from '../../../src/core/liningPlan.ts';
import { sortCautions } from '../../../src/ui/order/cautions.ts';
import { cautionSentences } from '../../../src/ui/workWords.ts';

const steps = (...cautions: WorkCaution[][]) => cautions.map((each) => ({ cautions: each }));

test('a caution is said in full where it first matters, and in short after that', () => {
  expect(sortCautions(steps(['clean_bucket', 'temperature'], [], ['temperature', 'clean_bucket']))).toEqual([
    { full: ['clean_bucket', 'temperature'], again: [] },
    { full: [], again: [] },
    { full: [], again: ['room warm enough', 'clean bucket and whisk'] },
  ]);
});

test('what lies hidden in the wall is said in full each time', () => {
  const told = sortCautions(steps(['services'], ['services', 'stone_dust'], ['services', 'stone_dust']));
  expect(told.map(({ full }) => full)).toEqual([['services'], ['services', 'stone_dust'], ['services']]);
});

test('two dusts at one step are one mask', () => {
  const told = sortCautions(steps(['board_dust', 'stone_dust'], ['board_dust', 'stone_dust']));
  expect(told[1]).toEqual({ full: [], again: ['suction and mask'] });
});

test('law: no caution is lost, whatever the steps', () => {
  const all = Object.keys(cautionSentences) as WorkCaution[];
  const told = sortCautions(steps(all, all));
  expect(told[0]!.full).toEqual(all);
  for (const [k, { full, again }] of told.entries())
    expect(full.length + again.length, String(k)).toBeGreaterThan(0);
  const inShort = all.filter((caution) => !told[1]!.full.includes(caution));
  expect(inShort.length).toBeGreaterThan(3);
  for (const caution of ['services', 'live_boxes', 'damp_wall', 'fire_rating'] as const)
    expect(inShort).not.toContain(caution);
});
