import { expect, test } from 'vitest';
import { setDone } from '../../src/app/editDone.ts';
import { setSetting } from '../../src/app/editSettings.ts';
import { makeSurvey } from '../../src/app/newSurvey.ts';
import { freshness, type Solved } from '../../src/app/solved.ts';

const survey = makeSurvey('North wall', 3600, 2450, 'mm');
const solved = { of: survey } as Solved;

test('a result is of its own survey, and no longer when evidence or lining change', () => {
  expect(freshness(null, survey)).toBe('none');
  expect(freshness(solved, survey)).toBe('fresh');
  expect(freshness(solved, { ...survey, title: 'South wall' })).toBe('fresh');
  expect(freshness(solved, setSetting(survey, 'floorGapMm', 15))).toBe('replan');
  expect(freshness(solved, { ...survey, readings: [] })).toBe('old');
});

test('ticking off what is done asks for no new plan', () => {
  const ticked = setDone(survey, 'fix A', true);
  expect(freshness(solved, ticked)).toBe('fresh');
  expect(freshness({ ...solved, of: ticked }, survey)).toBe('fresh');
  expect(freshness(solved, setSetting(ticked, 'floorGapMm', 15))).toBe('replan');
});
