import { expect, test } from 'vitest';
import { setDone } from '../../src/app/editDone.ts';
import { makeSurvey } from '../../src/app/newSurvey.ts';

const survey = makeSurvey('North wall', 3600, 2450, 'mm');

test('what is ticked off stands once in the survey, in the order it was done', () => {
  const twice = setDone(setDone(survey, 'mix 1', true), 'A1', true);
  expect(twice.lining.done).toEqual(['mix 1', 'A1']);
  expect(setDone(twice, 'A1', true)).toBe(twice);
  expect(survey.lining.done).toBeUndefined();
});

test('the last tick taken back leaves the survey as it was', () => {
  const ticked = setDone(survey, 'A1', true);
  expect(setDone(ticked, 'A1', false)).toEqual(survey);
  expect(Object.keys(setDone(ticked, 'A1', false).lining)).not.toContain('done');
  expect(setDone(survey, 'A1', false)).toBe(survey);
});
