import { expect, test } from 'vitest';
import { addSlopeSpot, setSlope, startSlope } from '../../../src/ui/boards/slopes.ts';
import { makeSurvey } from '../../draw/walls.ts';

const survey = makeSurvey();

test('a slope starts level at both ends of the wall', () => {
  expect(startSlope(survey, 'ceiling').wall.ceiling).toEqual([
    { along: 0, up: 2450 },
    { along: 3600, up: 2450 },
  ]);
  expect(startSlope(survey, 'floor').wall.floor!.map(({ up }) => up)).toEqual([0, 0]);
});

test('one more place lies on the straight in the widest stretch', () => {
  const sloping = setSlope(survey, 'floor', [
    { along: 3600, up: 30 },
    { along: 0, up: 0 },
    { along: 600, up: 10 },
  ]);
  expect(sloping.wall.floor!.map(({ along }) => along)).toEqual([0, 600, 3600]);
  expect(addSlopeSpot(sloping, 'floor').wall.floor![2]).toEqual({ along: 2100, up: 20 });
});

test('with its last place gone a floor is level again, as if nothing had been said', () => {
  expect(setSlope(startSlope(survey, 'floor'), 'floor', []).wall).toEqual(survey.wall);
});
