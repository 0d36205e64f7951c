import { describe, expect, test } from 'vitest';
import { planAdhesive, type Laid } from '../../../src/core/lining/adhesive.ts';
import { defaultSettings } from '../../../src/core/lining/defaults.ts';
import { planMixing } from '../../../src/core/lining/mix/mixing.ts';
import type { NodeGrid } from '../../../src/core/lining/nodeGrid.ts';
import type { Dab, PackingStrip, RevealBoard } from '../../../src/core/liningPlan.ts';
import type { Board } from '../../../src/core/results.ts';
import { makeCase } from './walls.ts';

const settings = defaultSettings();
const { lining } = makeCase().survey;
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
const level = (bedMm: number): NodeGrid => ({ stepMm: 50, nx: 1, ny: 1, values: Float64Array.of(bedMm) });
/** Dabs of 100 x 250 mm in columns and rows, and a strip along the bottom, all of one depth. */
const dabs = (columns: number, rows: number, depthMm: number, of = 'A'): Dab[] => [
  ...Array.from({ length: columns * rows }, (_, k): Dab => ({
    board: of,
    kind: 'dab',
    packing: null,
    along: 50 + 500 * (k % columns),
    up: 200 + 300 * Math.floor(k / columns),
    width: 100,
    height: 250,
    depthMm,
    volumeL: (100 * 250 * depthMm) / 1e6,
  })),
  {
    board: of,
    kind: 'bottom',
    packing: null,
    along: 25,
    up: 37,
    width: 1150,
    height: 75,
    depthMm,
    volumeL: (1150 * 75 * depthMm) / 1e6,
  },
];
const laid = (more: Partial<Laid> = {}): Laid => ({ dabs: dabs(3, 7, 10), strips: [], reveals: [], ...more });
const strip: PackingStrip = {
  id: 'P1',
  board: 'A',
  layers: 1,
  along: 50,
  up: 200,
  width: 100,
  height: 2000,
  bedMm: 28,
  underMm: 8,
  overMm: 7.5,
  volumeL: 1.6,
};
const reveal: RevealBoard = {
  id: 'o1l',
  opening: 'o1',
  side: 'left',
  width: 200,
  length: 1200,
  massKg: 2,
};

describe('adhesive', () => {
  test('is the sum over the dabs and strips behind the board', () => {
    const { volumeL, perBoard, powderKg, coverage } = planAdhesive([board()], level(10), laid(), settings);
    // 21 x 0.25 L + 0.8625 L
    expect(volumeL).toBeCloseTo(6.1125, 12);
    expect(perBoard[0]).toMatchObject({ board: 'A', mixes: 1 });
    expect(perBoard[0]!.dabs).toMatchObject({ columns: 3, rows: 7, count: 21, footprintMm2: 25000 });
    expect(perBoard[0]!.dabs.volumeL).toBeCloseTo(0.25, 12);
    // powder x water ratio and waste
    expect(powderKg).toBeCloseTo(6.1125 * 1.05 * 1.1, 12);
    // contact: 0.61125 m2 of 2.88 m2, whatever share was asked for
    expect(coverage).toBeCloseTo(0.61125 / 2.88, 12);
  });
  test('mean bed and area are of the board without its cut-outs, exactly for a plane', () => {
    const slope = { stepMm: 2400, nx: 2, ny: 1, values: Float64Array.of(8, 16) };
    const cutouts = [{ along: 600, up: 900, width: 600, height: 1200 }];
    const [whole] = planAdhesive([board()], slope, laid(), settings).perBoard;
    const [cut] = planAdhesive([board({ cutouts })], slope, laid(), settings).perBoard;
    expect([whole!.areaM2, whole!.meanBedMm]).toEqual([2.88, expect.closeTo(10, 9)]);
    expect(cut!.areaM2).toBeCloseTo(2.16, 12);
    expect(cut!.meanBedMm).toBeCloseTo((2.88 * 10 - 0.72 * 11) / 2.16, 9);
  });
  test('of a board with a sloping end counts what the outline holds', () => {
    const outline = [
      { along: 0, up: 12 },
      { along: 1200, up: 12 },
      { along: 1200, up: 2412 },
      { along: 0, up: 1212 },
    ];
    const [mix] = planAdhesive([board({ outline })], level(10), laid(), settings).perBoard;
    expect(mix!.areaM2).toBeCloseTo(2.88 - 0.72, 12);
    expect(mix!.meanBedMm).toBeCloseTo(10, 12);
  });
  test('counts what is under packing strips with their board', () => {
    const { volumeL, perBoard } = planAdhesive([board()], level(28), laid({ strips: [strip] }), settings);
    expect(volumeL).toBeCloseTo(6.1125 + 1.6, 12);
    expect(perBoard[0]!.volumeL).toBeCloseTo(volumeL, 12);
  });
  test('of a reveal is two strips on the bed that the settings say', () => {
    const { perBoard, coverage } = planAdhesive([board()], level(10), laid({ reveals: [reveal] }), settings);
    expect(perBoard.map((mix) => mix.board)).toEqual(['A', 'o1l']);
    // half of 0.24 m2 on 10 mm
    expect(perBoard[1]!.volumeL).toBeCloseTo(1.2, 12);
    expect(coverage).toBeCloseTo(0.61125 / 2.88, 12);
  });
  test('is split into more mixes where one would not go into a bucket', () => {
    const deep = laid({ dabs: dabs(3, 7, 25) });
    const { perBoard, mixes, powderKg, bags } = planAdhesive([board()], level(25), deep, settings);
    // 15.28 L x 1.05 x 1.1
    expect(powderKg).toBeCloseTo(15.28125 * 1.155, 9);
    expect(perBoard[0]!.mixes).toBe(2);
    expect([mixes, bags]).toEqual([2, 1]);
  });
});

describe('mixing', () => {
  test('of packing, boards and reveals puts all the adhesive into batches', () => {
    const all = laid({ strips: [strip], reveals: [reveal] });
    const { adhesive, batches } = planMixing([board()], level(28), all, lining, settings);
    expect(batches.map(({ boards }) => boards)).toEqual([['packing'], ['A'], ['o1l']]);
    const powderKg = batches.reduce((sum, batch) => sum + batch.powderKg, 0);
    expect(powderKg).toBeCloseTo(adhesive.powderKg, 9);
    expect(adhesive.bags).toBe(1);
  });
  test('brings a bag more where a trial that is thrown away needs it', () => {
    const slow = { ...settings, pressMin: 18, bagKg: 7.5 };
    const { adhesive, batches } = planMixing([board()], level(10), laid(), lining, slow);
    expect(batches[0]).toMatchObject({ boards: [], volumeL: 0 });
    // 7.06 kg on the wall and 2 kg to try
    expect(adhesive.powderKg).toBeCloseTo(7.06, 2);
    expect(adhesive.bags).toBe(2);
  });
});
