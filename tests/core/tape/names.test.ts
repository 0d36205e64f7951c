import fc from 'fast-check';
import { expect, test } from 'vitest';
import { nameLattice, type CountedClick } from '../../../src/core/tape/names.ts';

const click = (at: number, count: number, periodPx = 10): CountedClick => ({ at, count, periodPx });

test('names that fit number the graduations, whatever they are counted from', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: -300, max: 300 }),
      fc.double({ min: -0.2, max: 0.2, noNaN: true }),
      (from, miss) => {
        const named = nameLattice([click(100, from + miss), click(1200, from + 110 - miss)], 10)!;
        expect(named.misnamedMm).toBe(0);
        expect(named.zeroMm + 10 * from).toBeCloseTo(100, 9);
      },
    ),
    { seed: 4, numRuns: 50 },
  );
});

test('a mark named off by whole graduations is told by how much', () => {
  for (const mm of [-1000, -100, -10, 10, 100, 1000])
    expect(nameLattice([click(100, 0), click(2100 + mm, 200)], 10)!.misnamedMm).toBe(mm);
  expect(nameLattice([click(0, 0), click(254 + 25.4, 10)], 25.4)!.misnamedMm).toBeCloseTo(25.4, 9);
});

test('a click five px off is a bad click, not a wrong name', () => {
  const named = nameLattice([click(100, 0.5, 10), click(2100, 200, 10)], 10)!;
  expect(named).toEqual({ zeroMm: 100, misnamedMm: 0 });
});

test('clicks half a graduation off all, or graduations too fine for them, number nothing', () => {
  expect(nameLattice([click(100, 0.5), click(2100, 200.5)], 10)).toBeNull();
  expect(nameLattice([click(100, 0.4, 3), click(2100, 200.4, 3)], 10)).toBeNull();
});

test('a third mark between decides where two could not', () => {
  const doubtful = [click(100, 0.5), click(2100, 200.5)];
  expect(nameLattice([doubtful[0]!, click(1100, 100), click(1500, 140.05), doubtful[1]!], 10)).toEqual({
    zeroMm: 100,
    misnamedMm: 0,
  });
});

test('a tape whose zero lies anywhere keeps its graduations there', () => {
  const named = nameLattice([click(123.4, 7), click(1123.4, 107)], 10)!;
  expect(named.zeroMm).toBeCloseTo(53.4, 6);
});
