import { describe, expect, test } from 'vitest';
import { listUnknownSettings, putBackSettings, setBedLimit, setSetting } from '../../src/app/editSettings.ts';
import { makeSurvey } from '../../src/app/newSurvey.ts';
import { settingsOf } from '../../src/core/lining/defaults.ts';
import type { Survey } from '../../src/core/survey.ts';
import { parseSurvey, writeSurvey } from '../../src/file/survey.ts';

const survey = makeSurvey('North wall', 3600, 2450, 'mm');
const withSettings = (settings: Record<string, number>): Survey => ({
  ...survey,
  lining: { ...survey.lining, settings },
});

describe('a setting', () => {
  test('of the user goes into the survey and into the plan, and through the file', () => {
    const own = setSetting(survey, 'floorGapMm', 15);
    expect(own.lining.settings).toEqual({ floorGapMm: 15 });
    expect(settingsOf(own.lining).floorGapMm).toBe(15);
    expect(parseSurvey(writeSurvey(own)).lining.settings).toEqual({ floorGapMm: 15 });
  });
  test('typed as the trade has it is no own one', () => {
    expect(setSetting(survey, 'floorGapMm', 12)).toBe(survey);
    expect(setSetting(setSetting(survey, 'floorGapMm', 15), 'floorGapMm', 12)).toEqual(survey);
  });
  test('set to what it is makes no step', () => {
    const own = setSetting(survey, 'floorGapMm', 15);
    expect(setSetting(own, 'floorGapMm', 15)).toBe(own);
    expect(setSetting(survey, 'floorGapMm', null)).toBe(survey);
  });
  test('put back leaves the others, and no empty list behind', () => {
    const two = setSetting(setSetting(survey, 'floorGapMm', 15), 'bagKg', 30);
    expect(setSetting(two, 'floorGapMm', null).lining.settings).toEqual({ bagKg: 30 });
    expect(setSetting(setSetting(two, 'floorGapMm', null), 'bagKg', null)).toEqual(survey);
  });
});

test('all put back: settings and bed, but not boards, nor figures that this version does not know', () => {
  const board = { width: 900, length: 1800, thickness: 12.5 };
  const own = setBedLimit(withSettings({ floorGapMm: 15, fromLater: 3 }), 'min', 8);
  const back = putBackSettings({ ...own, lining: { ...own.lining, board } });
  expect(back.lining).toEqual({ ...survey.lining, board, settings: { fromLater: 3 } });
  expect(putBackSettings(setSetting(survey, 'bagKg', 30))).toEqual(survey);
});

test('figures that this version does not know are named and kept', () => {
  const own = withSettings({ fromLater: 3, toString: 1 });
  expect(listUnknownSettings(own.lining)).toEqual(['fromLater', 'toString']);
  expect(setSetting(own, 'bagKg', 30).lining.settings).toEqual({ fromLater: 3, toString: 1, bagKg: 30 });
  expect(listUnknownSettings(survey.lining)).toEqual([]);
});

test('a limit of the bed is set alone', () => {
  expect(setBedLimit(survey, 'max', 25).lining.bed).toEqual({ min: 5, max: 25, packedMax: 40 });
  expect(setBedLimit(survey, 'max', 20)).toBe(survey);
});
