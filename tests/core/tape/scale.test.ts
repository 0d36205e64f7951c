import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fitProjective, placeOf, valueAt } from '../../../src/core/tape/projective.ts';
import { cyclesAt, makeScale, periodAt, placeAt } from '../../../src/core/tape/scale.ts';
import { countCycles } from '../../../src/core/tape/unwrap.ts';
import { ThreeTermFit } from '../../../src/core/tape/threeTerms.ts';
import { leastSquares } from '../../../src/core/checks/leastSquares.ts';

const projective = fc.record({
  a: fc.double({ min: -50, max: 50, noNaN: true }),
  b: fc.double({ min: 60, max: 200, noNaN: true }),
  c: fc.double({ min: -0.4, max: 0.4, noNaN: true }),
});

test('a projective scale is found from its own values, and undone', () => {
  fc.assert(
    fc.property(projective, (shape) => {
      const scale = { middle: 900, half: 800, ...shape };
      const places = Array.from({ length: 9 }, (_, i) => 100 + 200 * i);
      const found = fitProjective(
        places,
        places.map((place) => valueAt(scale, place)),
      );
      for (const place of [100, 777, 1700]) {
        expect(valueAt(found, place)).toBeCloseTo(valueAt(scale, place), 6);
        expect(placeOf(found, valueAt(scale, place))).toBeCloseTo(place, 5);
      }
    }),
    { seed: 7, numRuns: 60 },
  );
});

test('a scale with relief on it is undone at every place, and its period is its slope', () => {
  fc.assert(
    fc.property(projective, fc.double({ min: 0, max: 0.6, noNaN: true }), (shape, size) => {
      const base = { middle: 900, half: 800, ...shape };
      const places = Array.from({ length: 80 }, (_, i) => 100 + 20 * i);
      const scale = makeScale(
        places,
        places.map((place) => valueAt(base, place) + size * Math.sin(place / 150)),
      );
      for (const place of [140, 950, 1650])
        expect(placeAt(scale, cyclesAt(scale, place))).toBeCloseTo(place, 1);
      const slope = (cyclesAt(scale, 960) - cyclesAt(scale, 940)) / 20;
      expect(periodAt(scale, 950) * slope).toBeCloseTo(1, 1);
    }),
    { seed: 8, numRuns: 40 },
  );
});

test('three terms are those of the reference least squares', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -5, max: 5, noNaN: true }), { minLength: 8, maxLength: 8 }),
      (ys) => {
        const fit = new ThreeTermFit();
        const design = ys.flatMap((_, i) => [1, i, i * i]);
        ys.forEach((y, i) => fit.add(1, i, i * i, y));
        const expected = leastSquares(Float64Array.from(design), 3, Float64Array.from(ys));
        const found = fit.solve()!;
        for (let k = 0; k < 3; k++) {
          expect(found.values[k]).toBeCloseTo(expected.solution[k]!, 8);
          expect(found.variances[k]).toBeCloseTo(expected.cofactors[4 * k]!, 8);
        }
        expect(found.squareSum).toBeCloseTo(expected.squareSum, 6);
      },
    ),
    { seed: 9, numRuns: 40 },
  );
  expect(new ThreeTermFit().solve()).toBeNull();
});

/** Blocks 40 samples apart of a wave whose period goes from 10 to 8; those numbered in `lost` show nothing. */
function makeTrack(lost: (index: number) => boolean) {
  return Array.from({ length: 60 }, (_, i) => {
    const place = 40 * i;
    const cycles = place / 10 + place ** 2 / 200_000;
    const period = 1 / (1 / 10 + place / 100_000);
    return { cycles, block: { place, row: 5, period, phase: cycles % 1, share: lost(i) ? 0.05 : 0.8 } };
  });
}

test('cycles are counted through, and over a gap', () => {
  for (const lost of [() => false, (i: number) => i >= 20 && i < 28]) {
    const made = makeTrack(lost);
    const counted = countCycles(
      made.map(({ block }) => block),
      0.2,
    );
    expect(counted.length).toBe(made.filter((_, i) => !lost(i)).length);
    const truth = new Map(made.map(({ block, cycles }) => [block.place, cycles]));
    const shifts = counted.map(({ block, cycles }) => cycles - truth.get(block.place)!);
    for (const shift of shifts) expect(shift).toBeCloseTo(shifts[0]!, 6);
  }
});

test('nothing is counted where no phase goes on from another', () => {
  const made = makeTrack(() => false).map(({ block }, i) => ({
    ...block,
    phase: ((i * i * 7919) % 97) / 97,
  }));
  expect(countCycles(made, 0.2).length).toBeLessThan(6);
  expect(countCycles([], 0.2)).toEqual([]);
});
