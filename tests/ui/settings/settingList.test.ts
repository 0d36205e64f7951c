import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { setBedLimit, setSetting } from '../../../src/app/editSettings.ts';
import { makeSurvey } from '../../../src/app/newSurvey.ts';
import { settingsOf, tradeDefaults, type TradeDefault } from '../../../src/core/lining/defaults.ts';
import {
  findSettings,
  groupSettings,
  listSettings,
  readNumber,
  sayValue,
  shownNumber,
  unitName,
  unitsOf,
  usedInstead,
} from '../../../src/ui/settings/settingList.ts';

const survey = makeSurvey('North wall', 3600, 2450, 'mm');
const keys = (words: string, ownOnly = false, lining = survey.lining) =>
  findSettings(listSettings(lining), words, ownOnly).map(({ key }) => key);

describe('the list of settings', () => {
  test('has every trade default and the limits of the bed once, each in a group that is shown', () => {
    const all = listSettings(survey.lining);
    const expected = ['bed.min', 'bed.max', 'bed.packedMax', ...Object.keys(tradeDefaults)];
    expect(all.map(({ key }) => key)).toEqual(expected);
    const shown = groupSettings(all).flatMap(({ entries }) => entries.map(({ key }) => key));
    expect([...shown].sort()).toEqual([...expected].sort());
    expect(all.filter(({ own }) => own)).toEqual([]);
  });
  test('marks what is the user’s own, with the trade’s figure beside it', () => {
    const own = setBedLimit(setSetting(survey, 'bagKg', 30), 'min', 8);
    const marked = listSettings(own.lining).filter((entry) => entry.own);
    expect(marked.map(({ key, value, usual }) => [key, value, usual])).toEqual([
      ['bed.min', 8, 5],
      ['bagKg', 30, 25],
    ]);
    expect(keys('', true, own.lining)).toEqual(['bed.min', 'bagKg']);
  });
  test('says what the plan takes instead of a figure beyond its limits', () => {
    const settings = { floorGapMm: 90, bagKg: 30 };
    const all = listSettings({ ...survey.lining, settings });
    const found = all.filter((entry) => usedInstead(entry) !== null);
    expect(found.map((entry) => [entry.key, entry.value, usedInstead(entry)])).toEqual([
      ['floorGapMm', 90, settingsOf({ settings }).floorGapMm],
    ]);
  });
  test('has limits of the bed that keep them rising', () => {
    const limits = listSettings(survey.lining)
      .slice(0, 3)
      .map((entry) => entry.limits);
    expect(limits.slice(0, 2)).toEqual([
      [0, 20],
      [5, 40],
    ]);
    expect(limits[2]![0]).toBe(20);
  });
});

test('what is too small for fractions of an inch stays in mm', () => {
  const all = listSettings(survey.lining).filter(({ unit }) => unit === 'mm');
  const kept = all.filter((entry) => unitsOf(entry, 'inch') === 'mm').map(({ key }) => key);
  expect(kept).toContain('faceToleranceMm');
  expect(kept).not.toContain('ceilingGapMm');
  for (const entry of all.filter(({ key }) => !kept.includes(key)))
    expect(sayValue(entry.usual, 'mm', unitsOf(entry, 'inch')), entry.key).toMatch(/[1-9].* in$/);
});

describe('a setting is found', () => {
  test('by words of its meaning, its group or its unit, in any order and case', () => {
    expect(keys('CEILING gap')).toContain('ceilingGapMm');
    expect(keys('gap ceiling')).toEqual(keys('CEILING gap'));
    expect(keys('gauge screws')).toContain('screwColumnMm');
    expect(keys('litre')).toContain('powderKgPerL');
  });
  test('or not, where no setting has the word', () => {
    expect(keys('submarine')).toEqual([]);
  });
  test('by nothing at all: all of them', () => {
    expect(keys('  ').length).toBe(listSettings(survey.lining).length);
  });
});

describe('a number in a field', () => {
  const units = [...new Set(Object.values<TradeDefault>(tradeDefaults).map(({ unit }) => unit))];
  test('read back is what was shown, for every trade default', () => {
    for (const { value, limits, unit } of Object.values<TradeDefault>(tradeDefaults))
      for (const each of [value, ...limits])
        expect(readNumber(shownNumber(each, unit), unit)).toBeCloseTo(each, 9);
  });
  test('law: law of the same for any share', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1000 }), (thousandths) => {
        const share = thousandths / 1000;
        expect(readNumber(shownNumber(share, 'share'), 'share')).toBe(share);
      }),
      { seed: 11, numRuns: 50 },
    );
  });
  test('may have a comma, a minus, a percent sign; anything else is none', () => {
    expect(readNumber('−2,5', 'degC')).toBe(-2.5);
    expect(readNumber('25 %', 'share')).toBe(0.25);
    for (const text of ['', 'two', '1.2.3', '5 %', '1e3', '5 kg'])
      expect(readNumber(text, 'kg'), text).toBeNaN();
  });
  test('has a unit that reads as one, for every unit there is', () => {
    expect(units.length).toBeGreaterThan(5);
    for (const unit of units) expect(unitName(unit, 'mm'), unit).not.toMatch(/[/\d]|share|count/);
    expect(sayValue(304.8, 'mm', 'inch')).toBe('12 in');
    expect(sayValue(3, 'count', 'mm')).toBe('3');
  });
});
