import { describe, expect, test } from 'vitest';
import { fitLayers } from '../../../../src/core/lining/fixing/packing.ts';
import { fixWall } from './fixWall.ts';

const limits = { min: 5, max: 20, packedMax: 40 };

describe('layers of packing', () => {
  // Worked by hand with strips of 12.5 mm: adhesive of 5 to 20 mm under and over.
  test.each([
    [22.5, 22.5, { layers: 1, overMm: 5 }],
    [30, 30, { layers: 1, overMm: 8.75 }],
    [40, 40, { layers: 1, overMm: 13.75 }],
    // one layer leaves 10 to 25 mm: with 5 over it, 5 to 20 under it
    [22.5, 37.5, { layers: 1, overMm: 5 }],
    // 52.6 less one layer is more than 2 x 20
    [52.6, 52.6, { layers: 2, overMm: 13.8 }],
  ])('on a bed of %d to %d mm', (least, most, fit) => {
    const got = fitLayers({ least, most }, 12.5, limits);
    expect(got?.layers).toBe(fit.layers);
    expect(got?.overMm).toBeCloseTo(fit.overMm, 9);
  });
  test.each([
    ['too shallow', 20.5, 22.4],
    ['too uneven', 22.5, 37.6],
  ])('none fits a bed that is %s', (_name, least, most) => {
    expect(fitLayers({ least, most }, 12.5, limits)).toBeNull();
  });
});

describe('packing strips', () => {
  // Bed 5 mm at the middle of the wall, 5 + 25 mm at its ends, straight between.
  const deepEnds = (along: number) => -60 - Math.abs(along - 1800) / 72;
  test('stand under the columns and the bottom strip where the bed is over 20 mm, 100 mm wide', () => {
    const { packing, bed } = fixWall({ out: deepEnds });
    expect(packing.strips.length).toBeGreaterThan(3);
    for (const { width, height, layers, along } of packing.strips) {
      expect(Math.min(width, height)).toBeCloseTo(100, 9);
      expect(layers).toBe(1);
      expect(Math.abs(along + width / 2 - 1800)).toBeGreaterThan(72 * 17.5 - width / 2);
    }
    expect(bed.values.some((mm) => mm > 29)).toBe(true);
  });
  test('are cut to multiples of 50 mm, and the pieces are counted', () => {
    const { packing } = fixWall({ out: deepEnds });
    for (const { lengthMm, widthMm, count } of packing.cuts) {
      expect(lengthMm % 50).toBe(0);
      expect(widthMm).toBe(100);
      expect(count).toBeGreaterThan(0);
    }
  });
  test('are none on a bed within the limit, nor beyond packing', () => {
    expect(fixWall({}).packing).toEqual({ strips: [], cuts: [] });
    const cliff = fixWall({ out: (along) => (along > 1200 ? -110 : -60) });
    const beyond = cliff.packing.strips.filter(({ along }) => along > 1300);
    expect(beyond).toEqual([]);
  });
  test('of two layers stand where one leaves too much adhesive', () => {
    const { packing } = fixWall({
      out: (along) => (along > 1250 ? -110 : -60),
      bed: { min: 5, max: 20, packedMax: 60 },
    });
    expect(packing.strips.filter(({ along }) => along > 1300).every(({ layers }) => layers === 2)).toBe(true);
    expect(packing.cuts.reduce((sum, { count }) => sum + count, 0)).toBeGreaterThan(packing.strips.length);
  });
  test('have no room where the bed is only a little over the limit: packing_shallow', () => {
    const { packing, warnings } = fixWall({ out: (along) => (along < 600 ? -60 : -76.5) });
    expect(packing.strips).toEqual([]);
    expect(warnings.filter(({ code }) => code === 'packing_shallow').length).toBeGreaterThan(0);
  });
  test('give way to a screw that cannot stand elsewhere', () => {
    const { packing, screws } = fixWall({
      width: 300,
      out: (along) => (along < 60 ? -60 : -85),
      lining: { settings: { screwShiftMm: 0 } },
    });
    expect(packing.strips.length).toBeGreaterThan(1);
    expect(screws.length).toBeGreaterThan(4);
  });
});
