import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  defaultSettings,
  settingsOf,
  tradeDefaults,
  type LiningSettings,
  type TradeDefault,
} from '../../../src/core/lining/defaults.ts';

const entries = Object.entries<TradeDefault>(tradeDefaults);
const names = Object.keys(tradeDefaults) as (keyof LiningSettings)[];

describe('trade defaults', () => {
  test('are many, each with a group that the page knows', () => {
    expect(entries.length).toBeGreaterThan(50);
    const groups = new Set(entries.map(([, { group }]) => group));
    expect([...groups].sort()).toEqual(['adhesive', 'bed', 'boards', 'screws', 'work']);
  });
  test.each(entries)('%s lies within its limits and says what it is and where it comes from', (name, of) => {
    expect(Number.isFinite(of.value)).toBe(true);
    expect(of.limits[0]).toBeLessThan(of.limits[1]);
    expect(of.value).toBeGreaterThanOrEqual(of.limits[0]);
    expect(of.value).toBeLessThanOrEqual(of.limits[1]);
    expect(of.origin).toMatch(/\w{3,}/);
    expect(of.meaning).toMatch(/^\w.{8,}[^.]$/);
    if (of.unit === 'count') expect(Number.isInteger(of.value)).toBe(true);
    // the name ends in its unit, as every number's does
    const ends: Record<string, RegExp> = {
      mm: /Mm$/,
      mm2: /Mm2$/,
      min: /Min$/,
      degC: /C$/,
      'kg/L': /KgPerL$/,
      'L/kg': /LPerKg$/,
      'min/L': /MinPerL$/,
    };
    if (ends[of.unit]) expect(name).toMatch(ends[of.unit]!);
  });
  test('that go together are in order', () => {
    const settings = defaultSettings();
    expect(settings.jointsMin).toBeGreaterThan(settings.packersOutMin);
    expect(settings.packersOutMin).toBeGreaterThanOrEqual(settings.letGoMin);
    expect(settings.jointLeastC).toBeGreaterThanOrEqual(settings.wallLeastC);
    expect(settings.trialMixKg).toBeLessThan(settings.mixMostKg);
    expect(settings.mixMostKg).toBeLessThanOrEqual(settings.bagKg);
    expect(settings.screwRowLeastMm).toBeLessThanOrEqual(settings.screwRowMostMm);
  });
});

describe('settings of a survey', () => {
  test('are the defaults where the user has none', () => {
    expect(settingsOf({})).toEqual(defaultSettings());
    for (const [name, { value }] of entries)
      expect(defaultSettings()[name as keyof LiningSettings]).toBe(value);
  });
  test("are the user's figures within their limits; unknown names are ignored", () => {
    fc.assert(
      fc.property(
        fc.dictionary(
          fc.oneof(fc.constantFrom<string>(...names), fc.string()),
          fc.double({ noNaN: true, min: -1e6, max: 1e6 }),
        ),
        (settings) => {
          const made = settingsOf({ settings });
          expect(Object.keys(made).sort()).toEqual([...names].sort());
          for (const [name, { value, unit, limits }] of entries) {
            const asked = Object.hasOwn(settings, name) ? settings[name]! : value;
            const got = made[name as keyof LiningSettings];
            expect(got).toBeGreaterThanOrEqual(limits[0]);
            expect(got).toBeLessThanOrEqual(limits[1]);
            const whole = unit === 'count' ? Math.round(asked) : asked;
            if (asked >= limits[0] && asked <= limits[1]) expect(got).toBe(whole);
          }
        },
      ),
      { numRuns: 200, seed: 4 },
    );
  });
});
