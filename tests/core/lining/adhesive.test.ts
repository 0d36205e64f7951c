import { describe, expect, test } from 'vitest';
import { adhesiveDepth, packingLayers, planAdhesive } from '../../../src/core/lining/adhesive.ts';
import { dabColumnMm, planDabs } from '../../../src/core/lining/dabs.ts';
import { defaultSettings } from '../../../src/core/lining/defaults.ts';
import type { Board } from '../../../src/core/results.ts';
import { makeCase } from './walls.ts';

const settings = defaultSettings();
const { lining } = makeCase().survey;
const limits = lining.bed;
const board = (more: Partial<Board> = {}): Board => ({
  id: 'A',
  along: 0,
  up: 12,
  width: 1200,
  height: 2400,
  cutouts: [],
  outline: null,
  edges: { left: 'bound', right: 'bound' },
  holes: [],
  sheet: '',
  massKg: 0,
  persons: 1,
  ...more,
});
describe('packing', () => {
  test.each([
    [5, 0],
    [20, 0],
    [22, 0],
    [23, 1],
    [40, 1],
    [52, 1],
    [53, 2],
  ])('a bed of %d mm takes %d layers of board strip', (bed, layers) => {
    expect(packingLayers(bed, limits, 12.5)).toBe(layers);
  });
  test('leaves two dabs that are each within the limits', () => {
    for (let bed = 22.5; bed <= 40; bed += 0.25) {
      const each = adhesiveDepth(bed, limits, 12.5) / 2;
      expect(each).toBeGreaterThanOrEqual(limits.min);
      expect(each).toBeLessThanOrEqual(limits.max);
    }
  });
  test('beyond its limit no more adhesive is counted', () => {
    expect(adhesiveDepth(75, limits, 12.5)).toBe(27.5);
  });
});

describe('adhesive', () => {
  test('is the integral of the bed over the board, exactly for a plane', () => {
    const even = { stepMm: 2400, nx: 2, ny: 1, values: Float64Array.of(8, 16) };
    const { volumeL, perBoard } = planAdhesive([board()], even, lining, settings);
    expect(volumeL).toBeCloseTo(0.25 * 1.2 * 2.4 * 10, 9);
    expect(perBoard[0]).toMatchObject({ board: 'A', mixes: 1 });
    expect(perBoard[0]!.meanBedMm).toBeCloseTo(10, 9);
  });
  test('leaves cut-outs out', () => {
    const even = { stepMm: 50, nx: 1, ny: 1, values: Float64Array.of(10) };
    const cutouts = [{ along: 300, up: 900, width: 700, height: 1200 }];
    const { volumeL, perBoard } = planAdhesive([board({ cutouts })], even, lining, settings);
    expect(perBoard[0]!.areaM2).toBeCloseTo(2.88 - 0.84, 9);
    expect(volumeL).toBeCloseTo(0.25 * 2.04 * 10, 9);
  });
  test('counts less where packing strips stand in it: from 22.5 mm, where a strip fits between two least dabs', () => {
    // 10 mm at the left end, 1 mm more every 100 mm, nodes every 50 mm; the strips begin at along = 1250.
    const slope = {
      stepMm: 50,
      nx: 49,
      ny: 1,
      values: Float64Array.from({ length: 49 }, (_, i) => 10 + i / 2),
    };
    const { perBoard } = planAdhesive([board({ along: 1200 })], slope, lining, settings);
    expect(perBoard[0]!.meanBedMm).toBeCloseTo(28, 9);
    expect(perBoard[0]!.volumeL).toBeCloseTo(0.25 * 2.4 * (1.2 * 28 - 1.15 * 12.5), 9);
  });
  test('is split into more mixes where one would not go into a bucket', () => {
    const even = { stepMm: 50, nx: 1, ny: 1, values: Float64Array.of(20) };
    const { perBoard, mixes, powderKg, bags } = planAdhesive([board()], even, lining, settings);
    // 0.25 x 20 mm x 2.88 m2 x 1.05 x 1.1 = 16.6 kg
    expect(powderKg).toBeCloseTo(16.632, 9);
    expect(perBoard[0]!.mixes).toBe(2);
    expect([mixes, bags]).toEqual([2, 1]);
  });
  test('never falls as the least bed rises', () => {
    const volume = (bed: number) =>
      planAdhesive([board()], { stepMm: 50, nx: 1, ny: 1, values: Float64Array.of(bed) }, lining, settings)
        .volumeL;
    for (let bed = 5; bed < 20; bed += 0.5) expect(volume(bed + 0.5)).toBeGreaterThan(volume(bed));
  });
});

describe('dabs', () => {
  // Column spacings: UK specification clause after BS 8212.
  test.each([
    [1200, 9.5, 400],
    [900, 9.5, 450],
    [900, 12.5, 450],
    [1200, 12.5, 600],
    [1200, 15, 600],
  ])('behind a board of %d x %d mm stand in columns %d mm apart at most', (width, thickness, mm) => {
    expect(dabColumnMm(width, thickness)).toBe(mm);
  });
  test('behind a whole board: 3 columns of 8, as large as the contact asks for', () => {
    const dabs = planDabs(board(), lining.board, 2.88e6, 12, settings);
    expect(dabs).toMatchObject({ columns: 3, rows: 8, count: 24 });
    const strip = (1200 - 50) * 75;
    expect(24 * dabs.footprintMm2 + strip).toBeCloseTo(0.25 * 2.88e6, 6);
    expect(dabs.volumeL).toBeCloseTo((dabs.footprintMm2 * 12) / 1e6, 12);
  });
  test('in a cut-out are left out, the others grow', () => {
    const cutouts = [{ along: 300, up: 900, width: 600, height: 1200 }];
    const dabs = planDabs(board({ cutouts }), lining.board, 2.88e6 - 0.72e6, 12, settings);
    expect(dabs.count).toBe(24 - 4);
  });
  test('behind a low board at the floor there is only the strip', () => {
    expect(planDabs(board({ height: 300 }), lining.board, 0.36e6, 12, settings).count).toBe(0);
  });
});
