import { expect, test } from 'vitest';
import type { Fit } from '../../../src/core/results.ts';
import { sayFit, sayFits } from '../../../src/ui/surface/fitWords.ts';

// 95 % of chi-square with 10 degrees lies from 3.247 to 20.483 (Abramowitz & Stegun, table 26.8; from memory)
const fit = (kind: Fit['kind'], squareSum: number): Fit => ({
  kind,
  count: 20,
  squareSum,
  redundancy: 10,
  least: 3.247,
  most: 20.483,
});

test('scatter is told as a factor beside what chance allows', () => {
  expect(sayFit(fit('mark', 16.9))).toEqual({
    name: 'Marks',
    line: 'scatter 1.30 times what was stated (0.57 to 1.43 would be chance)',
    verdict: 'fits',
  });
  expect(sayFit(fit('mark', 20.5)).verdict).toBe('more');
  expect(sayFit(fit('mark', 3.2)).verdict).toBe('less');
});

test('with hardly any redundancy nothing is said', () => {
  expect(sayFit({ ...fit('stand', 0.2), redundancy: 0.1, least: NaN, most: NaN })).toMatchObject({
    line: 'too few checks to tell',
    verdict: 'none',
  });
  expect(sayFits([])).toMatch(/too few checks/);
});

test('the verdict follows everything together and names what scatters more than stated', () => {
  expect(sayFits([fit('all', 10), fit('reading', 9)])).toMatch(/^What was measured scatters as its stated/);
  expect(sayFits([fit('all', 10), fit('reading', 30)])).toMatch(/more than was stated for them: readings\.$/);
  expect(sayFits([fit('all', 30)])).toMatch(/worse than its ± says/);
  expect(sayFits([fit('all', 1)])).toMatch(/on the safe side/);
});
