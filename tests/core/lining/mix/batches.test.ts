import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { defaultSettings, settingsOf, tradeDefaults } from '../../../../src/core/lining/defaults.ts';
import { planBatches, type MixItem, type MixItems } from '../../../../src/core/lining/mix/batches.ts';
import { orderFixing } from '../../../../src/core/lining/mix/mixItems.ts';

const settings = defaultSettings();
const items = (volumesL: readonly number[], placeMin = 6, name = 'A'): MixItem[] =>
  volumesL.map((volumeL, k) => ({ id: `${name}${k + 1}`, volumeL, placeMin }));
const mix = (more: Partial<MixItems>, own: Partial<typeof settings> = {}) =>
  planBatches({ packing: [], boards: [], reveals: [], ...more }, { ...settings, ...own });
const perL = settings.powderKgPerL * (1 + settings.wasteShare);

describe('batches', () => {
  test('of three whole boards: a trial that beds part of the first, then one mix for each', () => {
    const { batches, pours, warnings } = mix({ boards: items([8, 8, 8]) });
    expect(batches.map(({ boards, trial }) => [boards, trial])).toEqual([
      [['A1'], true],
      [['A1'], false],
      [['A2'], false],
      [['A3'], false],
    ]);
    expect(batches[0]!.powderKg).toBeCloseTo(2, 12);
    expect(batches[0]!.waterL).toBeCloseTo(1, 12);
    // 4 + 3 to mix, then 0.6 x 8 to put on and 6 to press
    expect(batches[2]!.minutes).toBeCloseTo(17.8, 12);
    // the trial's adhesive waits for the second mix of the first board: 7 more
    expect(batches[0]!.minutes).toBeCloseTo(24.8, 12);
    expect(pours.map(({ items: ids }) => ids)).toEqual([[], ['A1'], ['A2'], ['A3']]);
    expect(warnings).toEqual([]);
  });

  test('of small boards: neighbours share a mix as far as bucket and pot life allow', () => {
    const { batches } = mix({ boards: items([2, 2, 2, 2, 12]) }, { trialMixKg: 0 });
    // 4 + 3 + 0.6 x 4 + 2 x 6 = 21.4 min; a third would take it to 28.6, a fourth over 30
    expect(batches.map(({ boards }) => boards)).toEqual([['A1', 'A2', 'A3'], ['A4'], ['A5']]);
  });

  test('of a board that takes more than a bucket: two equal buckets mixed together', () => {
    const { batches, pours } = mix({ boards: items([16]) }, { trialMixKg: 0 });
    expect(batches.map(({ powderKg }) => powderKg)).toEqual([8 * perL, 8 * perL]);
    expect(batches[0]!.minutes).toBeCloseTo(4 + 2 * 3 + 0.6 * 16 + 6, 12);
    expect(pours).toHaveLength(1);
  });

  test('of a small first board: the trial is all its adhesive', () => {
    const { batches } = mix({ boards: items([1, 8]) });
    expect(batches.map(({ boards, trial }) => [boards, trial])).toEqual([
      [['A1'], true],
      [['A2'], false],
    ]);
  });

  test('with packing strips: these come first, and the trial is for them', () => {
    const { batches, pours } = mix({
      packing: items([0.8, 0.8, 0.8, 0.8], 3, 'p'),
      boards: items([6]),
      reveals: items([0.4, 0.4], 3, 'r'),
    });
    expect(batches.map(({ boards, trial }) => [boards, trial])).toEqual([
      [['packing'], true],
      [['packing'], false],
      [['A1'], false],
      [['r1', 'r2'], false],
    ]);
    expect(pours[0]!.items).toEqual(['p1', 'p2']);
  });

  test('at a slow pace: the trial is thrown away, its powder on top', () => {
    const { batches, warnings } = mix({ boards: items([8], 16) });
    expect(batches[0]).toMatchObject({ boards: [], volumeL: 0, powderKg: 2, trial: true, minutes: 7 });
    expect(batches[1]!.volumeL).toBeCloseTo(8, 12);
    expect(warnings).toEqual([]);
  });

  test('at a pace that no pot life allows: the board is named, the minutes are told as they are', () => {
    const { batches, warnings } = mix({ boards: items([8], 30) });
    expect(warnings).toEqual([{ code: 'mix_outlasts_pot', subject: 'A1' }]);
    expect(batches.at(-1)!.minutes).toBeCloseTo(41.8, 12);
  });

  test('of nothing are none', () => {
    expect(mix({})).toEqual({ pours: [], batches: [], warnings: [] });
  });
});

const anyVolume = fc.double({ min: 0.05, max: 25, noNaN: true });
const anyPace = fc.record(
  Object.fromEntries(
    (
      [
        'restMin',
        'stirMin',
        'applyMinPerL',
        'pressMin',
        'pieceMin',
        'potLifeMin',
        'mixMostKg',
        'trialMixKg',
        'powderKgPerL',
        'wasteShare',
        'waterLPerKg',
      ] as const
    ).map((name) => {
      const [min, max] = tradeDefaults[name].limits;
      return [name, fc.double({ min, max, noNaN: true })];
    }),
  ),
  { requiredKeys: [] },
);

test('no batch outlasts its pot life but of a board named, none is over the largest mix, sums agree', () => {
  let [named, kept] = [0, 0];
  fc.assert(
    fc.property(
      fc.array(anyVolume, { maxLength: 4 }),
      fc.array(anyVolume, { minLength: 1, maxLength: 9 }),
      fc.array(anyVolume, { maxLength: 3 }),
      anyPace,
      (packing, boards, reveals, own) => {
        const pace = settingsOf({ settings: own as Record<string, number> });
        const all = {
          packing: items(packing, pace.pieceMin, 'p'),
          boards: items(boards, pace.pressMin),
          reveals: items(reveals, pace.pieceMin, 'r'),
        };
        const { batches, pours, warnings } = planBatches(all, pace);
        const alone = ({ volumeL, placeMin }: MixItem) =>
          pace.restMin +
          Math.max(
            1,
            Math.ceil((volumeL * pace.powderKgPerL * (1 + pace.wasteShare)) / pace.mixMostKg - 1e-9),
          ) *
            pace.stirMin +
          pace.applyMinPerL * volumeL +
          placeMin;
        for (const pour of pours)
          for (const batch of pour.batches) {
            expect(batch.powderKg).toBeLessThanOrEqual(pace.mixMostKg * (1 + 1e-9));
            expect(batch.waterL).toBeCloseTo(batch.powderKg * pace.waterLPerKg, 9);
            if (batch.minutes <= pace.potLifeMin + 1e-6) kept++;
            else {
              named++;
              const [id] = pour.items;
              expect(pour.items).toHaveLength(1);
              // no way of mixing for this alone would do
              const item = [...all.packing, ...all.boards, ...all.reveals].find((each) => each.id === id)!;
              expect(alone(item)).toBeGreaterThan(pace.potLifeMin);
              expect(warnings.map(({ subject }) => subject)).toContain(pour.kind === 'packing' ? 'wall' : id);
            }
          }
        const onWall = batches.filter((batch) => batch.boards.length > 0);
        const volumeL = [...packing, ...boards, ...reveals].reduce((total, each) => total + each, 0);
        const total = (of: (batch: (typeof batches)[number]) => number) =>
          onWall.reduce((sum, batch) => sum + of(batch), 0);
        expect(total((batch) => batch.volumeL)).toBeCloseTo(volumeL, 8);
        expect(total((batch) => batch.powderKg)).toBeCloseTo(
          volumeL * pace.powderKgPerL * (1 + pace.wasteShare),
          8,
        );
        expect(pours.flatMap((pour) => pour.items)).toEqual(
          [...all.packing, ...all.boards, ...all.reveals].map(({ id }) => id),
        );
        expect(batches.map(({ number }) => number)).toEqual(batches.map((_, k) => k + 1));
        expect(batches.filter(({ trial }) => trial).length).toBeLessThanOrEqual(1);
      },
    ),
    { numRuns: 250, seed: 17 },
  );
  expect(named).toBeGreaterThan(50);
  expect(kept).toBeGreaterThan(500);
});

test('boards are fixed from the end they start at, in one column from the floor', () => {
  const board = (along: number, up: number) => ({ along, up, width: 1200, height: 1000 });
  const some = [board(1200, 1000), board(0, 0), board(1200, 0), board(2400, 0)];
  expect(orderFixing(some, 'left')).toEqual([some[1], some[2], some[0], some[3]]);
  expect(orderFixing(some, undefined)).toEqual(orderFixing(some, 'left'));
  expect(orderFixing(some, 'right')).toEqual([some[3], some[2], some[0], some[1]]);
});
