import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { zoneOf } from '../../../src/core/lining/bed.ts';
import { fillNodes, sampleNodes, type NodeGrid } from '../../../src/core/lining/nodeGrid.ts';
import { measureZones, shareBelow } from '../../../src/core/lining/zones.ts';
import type { Lining, Wall } from '../../../src/core/survey.ts';
import { makeCase } from './walls.ts';

const limits = { min: 5, max: 20, packedMax: 40 };
const bedGrid = (
  width: number,
  height: number,
  stepMm: number,
  bed: (along: number, up: number) => number,
) => {
  const nx = Math.ceil(width / stepMm) + 1;
  const ny = Math.ceil(height / stepMm) + 1;
  const values = Float64Array.from({ length: nx * ny }, (_, k) =>
    bed((k % nx) * stepMm, Math.floor(k / nx) * stepMm),
  );
  return { stepMm, nx, ny, values };
};

const measureSharply = (bed: NodeGrid, wall: Wall, of: Lining['bed']) =>
  measureZones(bed, { ...bed, values: bed.values.map(() => 0) }, wall, of);

describe('zones', () => {
  test('limits belong to the shallower zone, rounding apart', () => {
    expect([4.9, 5, 5 - 1e-9, 20, 20.1, 40, 40.1].map((bed) => zoneOf(bed, limits))).toEqual([
      'thin',
      'normal',
      'normal',
      'normal',
      'packed',
      'packed',
      'beyond',
    ]);
  });
  test('of a bed that grows evenly from 0 to 50 mm are cut exactly where it passes the limits', () => {
    const { wall } = makeCase({ width: 3333, height: 2401 }).survey;
    const zones = measureSharply(
      bedGrid(3333, 2401, 50, (along) => (50 * along) / 3333),
      wall,
      limits,
    );
    zones.forEach(({ share }, k) => expect(share).toBeCloseTo([0.1, 0.3, 0.4, 0.2][k]!, 6));
    expect(zones.reduce((sum, { areaM2 }) => sum + areaM2, 0)).toBeCloseTo(3.333 * 2.401, 9);
  });
  test('leave the openings out, also where they part a cell or reach beyond the wall', () => {
    const openings = [
      { along: 1510, up: 333, width: 777, height: 1000 },
      { along: 3500, up: -100, width: 500, height: 300 },
    ];
    const { wall } = makeCase({ openings }).survey;
    const zones = measureSharply(
      bedGrid(3600, 2450, 50, () => 12),
      wall,
      limits,
    );
    expect(zones.map(({ share }) => share)).toEqual([0, 1, 0, 0]);
    expect(zones[1]!.areaM2).toBeCloseTo(3.6 * 2.45 - 0.777 - 0.1 * 0.2, 9);
  });
  test('of a hollow agree with a fine count', () => {
    const { wall } = makeCase({ width: 1000, height: 1000 }).survey;
    const grid = bedGrid(
      1000,
      1000,
      25,
      (x, y) => 10 + 18 * Math.exp(-((x - 480) ** 2 + (y - 530) ** 2) / 200 ** 2),
    );
    let over = 0;
    for (let x = 1; x < 1000; x += 2)
      for (let y = 1; y < 1000; y += 2) if (sampleNodes(grid, x, y) > 20) over++;
    expect(measureSharply(grid, wall, limits)[2]!.share).toBeCloseTo(over / 250000, 3);
  });
});

describe('the area to be expected in a zone', () => {
  const { wall } = makeCase({ width: 3000, height: 2400 }).survey;
  const expectAreas = (bedMm: number, sigmaMm: number) => {
    const bed = bedGrid(3000, 2400, 50, () => bedMm);
    const sigma = { ...bed, values: bed.values.map(() => sigmaMm) };
    return measureZones(bed, sigma, wall, limits).map(({ expectedM2 }) => expectedM2 / 7.2);
  };
  // Normal distribution: 0.158655 beyond one sigma, 0.022750 beyond two (published tables).
  test('is what the normal distribution gives: one sigma under the most, two over the minimum', () => {
    const [thin, normal, packed, beyond] = expectAreas(15, 5);
    expect(thin).toBeCloseTo(0.02275, 5);
    expect(packed! + beyond!).toBeCloseTo(0.158655, 5);
    expect(normal).toBeCloseTo(1 - 0.02275 - 0.158655, 5);
  });
  test('is the area itself where the bed is known exactly', () => {
    expect(expectAreas(12, 0)).toEqual([0, expect.closeTo(1, 12), 0, 0]);
    expect(expectAreas(5, 0)[1]).toBeCloseTo(1, 12);
  });
  test('at the least bed is half too thin, and sums to the wall', () => {
    const shares = expectAreas(5, 0.5);
    expect(shares[0]).toBeCloseTo(0.5, 5);
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
  });
});

test('the share of a triangle below a level is continuous and even', () => {
  const value = fc.integer({ min: -9, max: 9 });
  fc.assert(
    fc.property(value, value, value, fc.double({ min: -10, max: 10, noNaN: true }), (a, b, c, level) => {
      const share = shareBelow(a, b, c, level);
      expect(share).toBeGreaterThanOrEqual(0);
      expect(share).toBeLessThanOrEqual(1);
      expect(shareBelow(c, a, b, level)).toBeCloseTo(share, 12);
      if (Math.min(a, b, c) < Math.max(a, b, c))
        expect(shareBelow(-a, -b, -c, -level)).toBeCloseTo(1 - share, 9);
    }),
    { numRuns: 300, seed: 2 },
  );
});

describe('nodes', () => {
  test('a hole is filled between the values round it, a corner from its neighbours', () => {
    const values = Float64Array.of(NaN, 2, 2, 2, NaN, 4, 4, 4, NaN);
    const filled = fillNodes({ stepMm: 10, nx: 3, ny: 3, values });
    expect(filled.values[4]).toBeCloseTo(3, 12);
    expect(filled.values.every((value) => value >= 2 && value <= 4)).toBe(true);
    expect(values[0]).toBeNaN();
  });
  test('no known node at all is a fault of the caller', () => {
    expect(() => fillNodes({ stepMm: 10, nx: 2, ny: 1, values: Float64Array.of(NaN, NaN) })).toThrow(
      'expected a known node',
    );
  });
  test('a value between nodes is bilinear, beyond the grid its edge goes on', () => {
    const grid = { stepMm: 10, nx: 2, ny: 2, values: Float64Array.of(0, 1, 2, 4) };
    expect(sampleNodes(grid, 5, 5)).toBe(1.75);
    expect(sampleNodes(grid, 99, 99)).toBe(4);
    expect(sampleNodes(grid, -5, 0)).toBe(0);
    expect(sampleNodes({ stepMm: 10, nx: 1, ny: 1, values: Float64Array.of(7) }, 3, 3)).toBe(7);
  });
});
