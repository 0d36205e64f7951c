import { expect, test } from 'vitest';
import { drawChances } from '../../src/draw/chances.ts';
import { listTexts, toSvg } from '../../src/draw/tree.ts';
import { roughPlan } from './walls.ts';

const { survey, solution, plan } = roughPlan();
const input = { survey, surface: solution.surface, plan };

test('a bed known exactly is either in or out: no band in between is named', () => {
  const { surface } = solution;
  const certain = { ...surface, sigma: surface.sigma.map((each) => (Number.isNaN(each) ? NaN : 0)) };
  const texts = listTexts(drawChances({ ...input, surface: certain }, 'packing'));
  expect(texts).toContain('under 1 in 20: no packing');
  expect(texts).toContain('over 19 in 20: packing');
  expect(texts.filter((text) => text.includes('about even') || text.includes('likely'))).toEqual([]);
});

test('a bed at the limit is about even wherever it is uncertain', () => {
  const even = { ...plan, bed: plan.bed.map((bed) => (Number.isNaN(bed) ? NaN : survey.lining.bed.max)) };
  const texts = listTexts(drawChances({ ...input, plan: even }, 'packing'));
  expect(texts).toContain('about even: have strips at hand');
  expect(texts.some((text) => text.includes('1 in 20'))).toBe(false);
});

test('the title names the depth in the units of the survey', () => {
  expect(listTexts(drawChances(input, 'beyond'))).toContain('Chance of a bed over 40 mm');
  const inches = { ...input, survey: { ...survey, units: 'inch' as const } };
  expect(listTexts(drawChances(inches, 'beyond'))).toContain('Chance of a bed over 1 9/16 in');
});

test('a wall of which nothing is known is drawn without bands', () => {
  const nothing = { ...plan, bed: plan.bed.map(() => NaN) };
  expect(toSvg(drawChances({ ...input, plan: nothing }, 'thin'))).not.toMatch(/NaN/);
});
