import { describe, expect, test } from 'vitest';
import { compareWays } from '../../../src/core/lining/comparison.ts';
import { defaultSettings } from '../../../src/core/lining/defaults.ts';
import { judgeFitness } from '../../../src/core/lining/fitness.ts';
import type { HackOption, HackedSpot } from '../../../src/core/liningPlan.ts';
import type { ZoneShare } from '../../../src/core/results.ts';
import { makeCase } from './walls.ts';

const { survey } = makeCase();
const settings = defaultSettings();
const zones = (packed: number, beyond: number, expectedOver = packed + beyond): ZoneShare[] =>
  [0, 1 - packed - beyond, packed, beyond].map((share, k) => ({
    zone: (['thin', 'normal', 'packed', 'beyond'] as const)[k]!,
    share,
    areaM2: 8 * share,
    expectedM2: 8 * [0, 1 - expectedOver, expectedOver, 0][k]!,
  }));
const option = (count: number, overMaxShare: number, overPackedShare = 0): HackOption => ({
  spots: Array.from({ length: count }, (_, k) => ({ id: `h${k + 1}` }) as HackedSpot),
  meanBedMm: 10,
  maxBedMm: 20,
  overMaxShare,
  overPackedShare,
  adhesiveL: 1,
  powderKg: 1,
  setKg: 1,
  roomMm: 1,
  proven: true,
});
const judge = (of: ZoneShare[], hackOptions: HackOption[] = []) =>
  judgeFitness({ zones: of, meanBedMm: 12, maxBedMm: 30, hackOptions }, survey, [], settings);

describe('the verdict', () => {
  test.each([
    [0, 0, 'direct_bond', ['within_limits']],
    [0.0005, 0, 'direct_bond', ['within_limits']],
    [0.02, 0, 'pack_first', ['over_max']],
    [0.5, 0, 'pack_first', ['over_max']],
    [0.51, 0, 'frame_or_plaster', ['over_max']],
    [0, 0.04, 'pack_first', ['beyond_packing', 'over_max']],
    [0, 0.06, 'frame_or_plaster', ['beyond_packing', 'over_max']],
  ] as const)('%d of the wall over packing and %d beyond it: %s', (packed, beyond, way, codes) => {
    const verdict = judge(zones(packed, beyond));
    expect(verdict).toMatchObject({ way, overPackedShare: beyond, cautions: [] });
    expect(verdict.overMaxShare).toBeCloseTo(packed + beyond, 12);
    expect(verdict.reasons.map(({ code }) => code)).toEqual(codes);
  });
  test('gives the area that is over, and the deepest bed', () => {
    expect(judge(zones(0.25, 0)).reasons).toEqual([
      { code: 'over_max', share: 0.25, areaM2: 2, maxBedMm: 30 },
    ]);
  });
  test('says where sigma makes more of the wall likely to be over', () => {
    expect(judge(zones(0, 0, 0.05)).reasons[1]).toEqual({
      code: 'likely_over_max',
      areaM2: 0,
      expectedM2: expect.closeTo(0.4, 9) as number,
    });
    expect(judge(zones(0, 0, 0.009)).reasons).toHaveLength(1);
  });
  test('names the fewest spots to hack off that change the way', () => {
    const options = [option(0, 0.6), option(1, 0.55), option(2, 0.3), option(3, 0)];
    expect(judge(zones(0.6, 0), options).reasons[1]).toEqual({
      code: 'hacking_off',
      spots: 2,
      overMaxShare: 0.3,
      overPackedShare: 0,
    });
    expect(judge(zones(0.3, 0), [option(0, 0.3), option(1, 0.2)]).reasons).toHaveLength(1);
  });
});

// A mean bed of 17.33 mm at a contact of 0.20 takes 3.64 kg/m2 of powder at 1.05 kg/L; with a board of 8.5 kg/m2 and 1.19 kg set per
// kilogram of powder about 12.8 kg/m2: a comparison of the ways of lining has 3.5 kg, 4.1 kg set and 12.6 kg/m2 (from memory).
test('boards on adhesive weigh what the comparison of methods says', () => {
  const own = { ...settings, boardKgPerM2: 8.5, coverageShare: 0.2 };
  const powderMm = 3.5 / (0.2 * 1.05);
  const [bonded, frame, plaster] = compareWays(powderMm, survey.lining, own);
  expect(bonded!.massKgPerM2).toBeCloseTo(8.5 + 3.5 * 1.19, 9);
  expect(Math.abs(bonded!.massKgPerM2 - 12.6)).toBeLessThan(0.1);
  expect(bonded!.thicknessMm).toBeCloseTo(powderMm + 12.5, 9);
  expect(frame).toMatchObject({ way: 'frame', massKgPerM2: 10, thicknessMm: powderMm - 5 + 27 + 12.5 });
  expect(plaster!.thicknessMm).toBeCloseTo(powderMm, 9);
  expect(plaster!.massKgPerM2).toBeCloseTo(1.05 * powderMm, 9);
});

test('plaster on a flat wall is as thick as it must be on the mean', () => {
  expect(compareWays(5, survey.lining, settings)[2]).toMatchObject({ way: 'plaster', thicknessMm: 10 });
});
