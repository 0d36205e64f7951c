import { expect, test } from 'vitest';
import { findHighPoints } from '../../../src/core/lining/highPoint.ts';
import { judgeFitness } from '../../../src/core/lining/fitness.ts';
import { defaultSettings, tradeDefaults } from '../../../src/core/lining/defaults.ts';
import type { ZoneShare } from '../../../src/core/results.ts';
import { makeCase } from './walls.ts';

const grid = (beds: readonly (readonly number[])[]) => {
  const [ny, nx] = [beds.length, beds[0]!.length];
  const bed = Float64Array.from(beds.flat());
  const surface = { stepMm: 50, nx, ny, out: bed.map((mm) => -50 - mm), sigma: bed.map((_, k) => k / 10) };
  return { surface, bed };
};

test('touching nodes side by side are one high point, at their middle; rows do not wrap round, none lies beyond the wall', () => {
  const { surface, bed } = grid([
    [5, 5, 5, 9, 5],
    [5, 9, 9, 9, 9],
    [NaN, 9, 5, 9, 9],
  ]);
  const points = findHighPoints(surface, bed, 5, { width: 190, height: 100 });
  expect(points.map(({ along, up, sigma }) => [along, up, sigma])).toEqual([
    [50, 0, 0.1],
    [100, 100, 1.2],
    [190, 0, 0.4],
  ]);
  expect(points.every((point) => point.bed === 5 && point.out === -55)).toBe(true);
});

const { wall } = makeCase().survey;
const zones = (packed: number, beyond: number): ZoneShare[] =>
  [0, 1 - packed - beyond, packed, beyond].map((share, k) => ({
    zone: (['thin', 'normal', 'packed', 'beyond'] as const)[k]!,
    share,
    areaM2: 8 * share,
    expectedM2: 8 * share,
  }));

test.each([
  [0, 0, 'direct_bond'],
  [0.0005, 0, 'direct_bond'],
  [0.02, 0, 'pack_first'],
  [0.5, 0, 'pack_first'],
  [0.51, 0, 'frame_or_plaster'],
  [0, 0.04, 'pack_first'],
  [0, 0.06, 'frame_or_plaster'],
] as const)('%d of the wall over packing and %d beyond it: %s', (packed, beyond, way) => {
  const verdict = judgeFitness(zones(packed, beyond), wall, [], defaultSettings());
  expect(verdict).toMatchObject({ way, overPackedShare: beyond, cautions: [] });
  expect(verdict.overMaxShare).toBeCloseTo(packed + beyond, 12);
});

test('every trade default has a finite value in its unit, a meaning and an origin', () => {
  const settings = defaultSettings();
  expect(Object.keys(settings)).toEqual(Object.keys(tradeDefaults));
  for (const [name, { value, unit, meaning, origin }] of Object.entries(tradeDefaults)) {
    expect(value, name).toBeGreaterThan(0);
    expect(meaning.length, name).toBeGreaterThan(5);
    expect(origin, name).toMatch(/common practice, no source|UK|data sheet|own choice|reckoned|twice/);
    if (name.endsWith('Mm')) expect(unit, name).toBe('mm');
    if (name.endsWith('Share')) expect(value, name).toBeLessThan(1);
  }
});
