import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fitBedPlane } from '../../../src/core/lining/bedPlane.ts';
import { solver } from '../../solver.ts';
import { gatherSpots, limitSlopes, type Spot } from './plane/spots.ts';

interface Limits {
  readonly minBedMm: number;
  readonly turnMost: number;
  readonly leanMost: number;
}
const fitSpots = (spots: readonly Spot[], { minBedMm, turnMost, leanMost }: Limits) =>
  fitBedPlane(gatherSpots(spots, minBedMm), limitSlopes(turnMost, leanMost), solver);
const plumb: Limits = { minBedMm: 5, turnMost: Infinity, leanMost: 0 };
const parallel: Limits = { ...plumb, turnMost: 0 };
const free: Limits = { ...plumb, leanMost: Infinity };

/** Random spots on a 100 mm lattice (so that ties and rows of nodes come up) with offsets to 0.1 mm. */
const anySpots = fc.array(
  fc
    .tuple(
      fc.integer({ min: 0, max: 36 }),
      fc.integer({ min: 0, max: 24 }),
      fc.integer({ min: -900, max: -300 }),
    )
    .map(([along, up, out]): Spot => [100 * along, 100 * up, out / 10]),
  { minLength: 1, maxLength: 14 },
);
const slope = fc.constantFrom(0, 0.001, 0.002, 0.01, Infinity);
const check = (run: (spots: Spot[], turnMost: number, leanMost: number) => void) =>
  fc.assert(fc.property(anySpots, slope, slope, run), { numRuns: 80, seed: 7 });

/** Least mean bed by trying every plane through two spots and a given slope, three spots, and every bound. */
function searchPlumb(spots: readonly Spot[], turnMost: number): number {
  const slopes = [0, turnMost, -turnMost].filter(Number.isFinite);
  for (const [x1, , z1] of spots)
    for (const [x2, , z2] of spots) if (x1 !== x2) slopes.push((z1 - z2) / (x1 - x2));
  const middle = spots.reduce((sum, [x]) => sum + x, 0) / spots.length;
  const out = spots.reduce((sum, [, , z]) => sum + z, 0) / spots.length;
  return Math.min(
    ...slopes
      .filter((q) => Math.abs(q) <= turnMost)
      .map((q) => Math.max(...spots.map(([x, , z]) => z + 5 - q * x)) + q * middle - out),
  );
}

describe('the bed plane', () => {
  test('keeps the least bed at every spot and touches the wall', () => {
    check((spots, turnMost, leanMost) => {
      const { plane, meanBedMm, maxBedMm } = fitSpots(spots, { minBedMm: 5, turnMost, leanMost });
      const beds = spots.map(([along, up, out]) => plane.p + plane.q * along + plane.r * up - out);
      expect(Math.min(...beds)).toBeCloseTo(5, 9);
      expect(Math.max(...beds)).toBeCloseTo(maxBedMm, 9);
      expect(beds.reduce((sum, bed) => sum + bed, 0) / beds.length).toBeCloseTo(meanBedMm, 8);
      expect(Math.abs(plane.q)).toBeLessThanOrEqual(turnMost + 1e-12);
      expect(Math.abs(plane.r)).toBeLessThanOrEqual(leanMost + 1e-12);
    });
  });
  test('plumb, has the least mean bed of all planes through two spots or at a bound', () => {
    check((spots, turnMost) => {
      const { meanBedMm } = fitSpots(spots, { minBedMm: 5, turnMost, leanMost: 0 });
      expect(meanBedMm).toBeCloseTo(searchPlumb(spots, turnMost), 7);
    });
  });
  test('free to lean, cannot be bettered by any small turn, lean or both', () => {
    check((spots, turnMost, leanMost) => {
      const wall = spots;
      const { plane, meanBedMm } = fitSpots(wall, { minBedMm: 5, turnMost, leanMost });
      const meanOf = (q: number, r: number) =>
        Math.max(...spots.map(([x, y, z]) => z + 5 - q * x - r * y)) +
        spots.reduce((sum, [x, y, z]) => sum + q * x + r * y - z, 0) / spots.length;
      // The mean bed is convex in q and r: no better neighbour means no better plane at all.
      for (let k = 0; k < 16; k++) {
        const q = plane.q + 1e-5 * Math.cos((k * Math.PI) / 8);
        const r = plane.r + 1e-5 * Math.sin((k * Math.PI) / 8);
        if (Math.abs(q) <= turnMost && Math.abs(r) <= leanMost)
          expect(meanOf(q, r)).toBeGreaterThan(meanBedMm - 1e-8);
      }
    });
  });
  test('never has a larger mean bed for being freer', () => {
    check((spots, turnMost, leanMost) => {
      const wall = spots;
      const mean = (limits: Limits) => fitSpots(wall, limits).meanBedMm;
      const some = mean({ minBedMm: 5, turnMost, leanMost });
      expect(some).toBeLessThanOrEqual(mean(parallel) + 1e-8);
      expect(mean(free)).toBeLessThanOrEqual(some + 1e-8);
      expect(mean(plumb)).toBeLessThanOrEqual(mean(parallel) + 1e-8);
    });
  });
  test('rises with the least bed by as much, and shifts with the wall in p alone', () => {
    check((spots, turnMost, leanMost) => {
      const limits = { minBedMm: 5, turnMost, leanMost };
      const base = fitSpots(spots, limits);
      const thick = fitSpots(spots, { ...limits, minBedMm: 8 });
      expect(thick.meanBedMm).toBeCloseTo(base.meanBedMm + 3, 7);
      const far = fitSpots(
        spots.map(([x, y, z]) => [x, y, z - 40]),
        limits,
      );
      expect(far.plane.p).toBeCloseTo(base.plane.p - 40, 6);
      expect(far.plane.q).toBeCloseTo(base.plane.q, 9);
      expect(far.plane.r).toBeCloseTo(base.plane.r, 9);
    });
  });
  test('does not depend on the order of the spots, and turns with the mirrored wall', () => {
    check((spots, turnMost, leanMost) => {
      const limits = { minBedMm: 5, turnMost, leanMost };
      const base = fitSpots(spots, limits).plane;
      const turned = fitSpots([...spots].reverse(), limits).plane;
      expect(turned.q).toBeCloseTo(base.q, 9);
      expect(turned.r).toBeCloseTo(base.r, 9);
      expect(turned.p).toBeCloseTo(base.p, 6);
      const mirrored = fitSpots(
        spots.map(([x, y, z]) => [-x, y, z]),
        limits,
      ).plane;
      expect(mirrored.q).toBeCloseTo(-base.q, 9);
      expect(mirrored.r).toBeCloseTo(base.r, 9);
    });
  });
  test('recovers a plane wall exactly', () => {
    const spots: Spot[] = [];
    for (let x = 0; x <= 3000; x += 100)
      for (let y = 0; y <= 2400; y += 100) spots.push([x, y, -70 + 0.004 * x - 0.003 * y]);
    const { plane, maxBedMm } = fitSpots(spots, free);
    expect(plane.p).toBeCloseTo(-65, 8);
    expect(plane.q).toBeCloseTo(0.004, 10);
    expect(plane.r).toBeCloseTo(-0.003, 10);
    expect(maxBedMm).toBeCloseTo(5, 8);
  });
});

describe('the bed plane of few spots', () => {
  test('one spot: parallel, plumb, at the least bed', () => {
    expect(fitSpots([[500, 800, -60]], free).plane).toEqual({ p: -55, q: 0, r: 0 });
  });
  test('one column of spots does not turn', () => {
    const { plane } = fitSpots([[500, 0, -60], [500, 1000, -58], [500, 2000, -61]], plumb); // prettier-ignore
    expect(plane).toEqual({ p: -53, q: 0, r: 0 });
  });
  test('one row of spots does not lean', () => {
    const { plane } = fitSpots([[0, 500, -60], [1000, 500, -58]], free); // prettier-ignore
    expect(plane.r).toBe(0);
    expect(plane.q).toBeCloseTo(0.002, 12);
  });
  test('one spot twice, with different offsets: the further out counts', () => {
    expect(fitSpots([[0, 0, -60], [0, 0, -50]], free).plane.p).toBeCloseTo(-45, 12); // prettier-ignore
  });
  test('a high point in the middle leaves the turn open: the plane stays parallel', () => {
    const { plane } = fitSpots([[0, 0, -60], [1000, 0, -40], [2000, 0, -60]], plumb); // prettier-ignore
    expect(plane).toEqual({ p: -35, q: 0, r: 0 });
  });
});
