import { expect, test } from 'vitest';
import { fitPaper, measureLines, type PaperLine } from '../../../src/ui/order/paperSize.ts';

const sentence =
  'Go over the whole wall: it must be sound and dry, and wall and air at 5 °C or more until then.';
const steps = (count: number): PaperLine[] =>
  Array.from({ length: count }, () => ({ step: sentence, under: [sentence] }));

test('a short order stands in the largest letters', () => {
  expect(fitPaper([])).toBe(9);
  expect(fitPaper([{ stage: 'Prepare' }, ...steps(5)])).toBe(9);
});

test('a longer one in smaller letters, down to the smallest', () => {
  const sizes = [25, 30, 35].map((count) => fitPaper(steps(count)));
  expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
  expect(sizes.at(-1)).toBeLessThan(9);
  expect(sizes.at(-1)).toBeGreaterThanOrEqual(7);
});

test('one that no letters bring on to a page goes on more pages, in the largest', () => {
  expect(fitPaper(steps(200))).toBe(9);
});

test('height grows with each line, with what stands under it and with the size of letters', () => {
  const one = measureLines(steps(1), 8);
  expect(measureLines(steps(3), 8)).toBeCloseTo(3 * one, 9);
  expect(measureLines([{ step: sentence, under: [] }], 8)).toBeLessThan(one);
  expect(measureLines(steps(1), 9)).toBeGreaterThan(one);
  // 8 pt letters in lines 1.22 times as high: 3.44 mm a line, and never less than one of each
  expect(one).toBeGreaterThan(2 * 0.9 * ((8 * 1.22 * 25.4) / 72));
});
