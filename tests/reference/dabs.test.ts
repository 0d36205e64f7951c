import { describe, expect, test } from 'vitest';
import { dabVolumeL } from '../../src/core/lining/dabs.ts';
import { defaultSettings } from '../../src/core/lining/defaults.ts';
import { planFixing } from '../../src/core/lining/fixing/planFixing.ts';
import type { Board } from '../../src/core/results.ts';
import type { Lining } from '../../src/core/survey.ts';

/** The fixing of one board of 1200 x 2400 mm alone on a wall as large, on an even bed. */
function fixBoard(bedMm: number, change: Partial<ReturnType<typeof defaultSettings>> = {}, thickness = 12.5) {
  const board: Board = {
    id: 'A',
    along: 0,
    up: 0,
    width: 1200,
    height: 2400,
    cutouts: [],
    outline: null,
    edges: { left: 'bound', right: 'bound' },
    holes: [],
    sheet: '',
    massKg: 0,
    persons: 1,
  };
  const limits = { min: 5, max: 30, packedMax: 40 };
  const lining: Lining = { board: { width: 1200, length: 2400, thickness }, bed: limits };
  const even = (value: number) => ({ stepMm: 100, nx: 1, ny: 1, values: Float64Array.of(value) });
  const ground = { bed: even(bedMm), sigma: even(1), plane: { p: 0, q: 0, r: 0 }, limits };
  const wall = { width: 1200, height: 2400, side: 'internal', openings: [], boxes: [] } as const;
  const settings = { ...defaultSettings(), ...change };
  return planFixing([board], wall, ground, lining, settings);
}

const areaM2 = (dabs: readonly { width: number; height: number }[]) =>
  dabs.reduce((sum, { width, height }) => sum + (width * height) / 1e6, 0);

// Rows, columns, sizes and distances: UK specification clause (after BS 8212): columns 600 mm apart behind a 12.5 mm board 1200 wide,
// 400 mm behind a 9.5 mm one, one along each edge, a row along the top, a continuous one along the bottom, 25 mm from the edges; dabs
// of 50-75 x 250 mm. At most 300 mm up a column: UK guides to bonding on dabs.
describe('dabs behind a board of 1200 x 2400 mm', () => {
  test.each([
    [12.5, 3],
    [9.5, 4],
  ])('of %d mm stand in %d columns, one along each edge 25 mm from it', (thickness, count) => {
    const dabs = fixBoard(10, {}, thickness).dabs.filter(
      ({ kind, height, width }) => kind === 'dab' && height > width,
    );
    const middles = [...new Set(dabs.map(({ along, width }) => Math.round(along + width / 2)))].sort(
      (a, b) => a - b,
    );
    expect(middles).toHaveLength(count);
    const most = Math.max(...middles.slice(1).map((middle, k) => middle - middles[k]!));
    expect(most).toBeLessThanOrEqual(thickness > 12 ? 600 : 400);
    expect(Math.min(...dabs.map(({ along }) => along))).toBe(25);
    expect(Math.max(...dabs.map(({ along, width }) => along + width))).toBe(1175);
  });
  test('are a row along the top, at most 300 mm apart up each column, and one strip along the bottom', () => {
    const { dabs } = fixBoard(10);
    expect(dabs.filter(({ kind }) => kind === 'bottom')).toMatchObject([
      { along: 25, up: 25, width: 1150, height: 75 },
    ]);
    expect(dabs.filter(({ up, height }) => Math.abs(up + height - 2375) < 1e-6)).toHaveLength(3);
    for (const x of [50, 600, 1150]) {
      const middles = dabs
        .filter(({ along, width }) => along < x && along + width > x)
        .map(({ up, height }) => up + height / 2)
        .sort((a, b) => a - b);
      expect(Math.max(...middles.slice(1).map((middle, k) => middle - middles[k]!))).toBeLessThanOrEqual(300);
    }
  });
  test('are 250 mm long where no screw shortens them, and 50 mm wide at least', () => {
    const { dabs } = fixBoard(10);
    for (const { width, height } of dabs) {
      expect(Math.max(width, height)).toBeGreaterThan(85);
      expect(Math.min(width, height)).toBeGreaterThanOrEqual(50);
    }
    expect(dabs.filter(({ height }) => Math.abs(height - 250) < 1e-6).length).toBeGreaterThanOrEqual(8);
  });
});

// Worked by hand: 3 columns of 8 dabs of 250 x 60 mm are 0.360 m2 = 12.5 % of 2.88 m2. Here one of the 8 rows is the row along the top
// and a strip of 1150 x 75 mm = 0.086 m2 lies at the bottom.
test('a contact of 12.5 % of the board takes as much adhesive as 3 columns of 8 dabs of 250 x 60 mm', () => {
  const { dabs } = fixBoard(10, { coverageShare: 0.125 });
  expect(areaM2(dabs)).toBeGreaterThanOrEqual(0.36);
  // Dabs are at their least width of 50 mm before that: the excess is what rows and strip take beyond it.
  expect(areaM2(dabs)).toBeLessThan(0.5);
  const volumeL = dabs.reduce((sum, dab) => sum + dab.volumeL, 0);
  expect(volumeL).toBeCloseTo(10 * areaM2(dabs), 9);
});

// Volume conserving rule, worked by hand: 250 x 60 x 25 mm = 0.375 L, which is 375 cm2 on a bed of 10 mm and half of that on 20 mm.
test('a dab of 250 x 60 x 25 mm is 0.375 L: 375 cm2 on a 10 mm bed, 188 cm2 on 20 mm', () => {
  expect(dabVolumeL(250 * 60, 25)).toBeCloseTo(0.375, 12);
  expect(dabVolumeL(37500, 10)).toBeCloseTo(0.375, 12);
  expect(dabVolumeL(18750, 20)).toBeCloseTo(0.375, 12);
});

// A ribbon of 75 mm all round is 2 x (1.2 + 2.4) x 0.075 = 0.54 m2 to its outer edge (18.75 %), as a UK guide has it. Laid 25 mm within
// the board's edges, as the specification asks, its outer edge is 2 x (1.15 + 2.35) m long and its corners count once:
// 7.0 x 0.075 - 4 x 0.075^2 = 0.5025 m2.
test('sealed all round, the ribbon of 75 mm is 0.5025 m2', () => {
  const { dabs } = fixBoard(10, { sealAllRound: 1 });
  const ribbon = dabs.filter(({ kind }) => kind === 'edge' || kind === 'bottom');
  expect(areaM2(ribbon)).toBeCloseTo(0.5025, 9);
  expect(2 * (1.2 + 2.4) * 0.075).toBeCloseTo(0.54, 12);
});

// Volume conserving rule: a dab of one volume gives half the contact on a bed twice as deep, so the plan's volume follows the bed and
// its contact does not: at least 20 % (a UK guide), 25 % by default.
test('the contact holds on a deep bed: twice the adhesive on twice the bed', () => {
  const [thin, thick] = [fixBoard(10), fixBoard(20)];
  expect(areaM2(thin.dabs)).toBeGreaterThanOrEqual(0.25 * 2.88);
  expect(areaM2(thin.dabs)).toBeLessThan(0.26 * 2.88);
  expect(areaM2(thick.dabs)).toBeCloseTo(areaM2(thin.dabs), 9);
  const volumeL = ({ dabs }: ReturnType<typeof fixBoard>) => dabs.reduce((sum, dab) => sum + dab.volumeL, 0);
  expect(volumeL(thick)).toBeCloseTo(2 * volumeL(thin), 9);
});
