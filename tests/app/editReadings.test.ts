import { expect, test } from 'vitest';
import { addReadings, nextSigma, removeReading, setReading } from '../../src/app/editReadings.ts';
import { makeSurvey } from '../../src/app/newSurvey.ts';

const empty = makeSurvey('Wall', 3600, 2450, 'mm');

test('readings are added in their order under free ids, and each inherits the sigma of the one before', () => {
  const one = addReadings(empty, [{ along: 100, up: 200, distance: 60 }]);
  expect(one.readings).toEqual([{ id: 'r1', along: 100, up: 200, distance: 60, sigma: 0.7 }]);
  const some = addReadings(one, [
    { along: 1, up: 2, distance: 3, sigma: 1.5 },
    { along: 4, up: 5, distance: 6 },
  ]);
  expect(some.readings.map(({ id, sigma }) => [id, sigma])).toEqual([
    ['r1', 0.7],
    ['r2', 1.5],
    ['r3', 1.5],
  ]);
  expect(nextSigma(some)).toBe(1.5);
  expect(addReadings(some, [])).toBe(some);
  const less = removeReading(some, 'r2');
  expect(addReadings(less, [{ along: 1, up: 2, distance: 3 }]).readings.map(({ id }) => id)).toEqual([
    'r1',
    'r3',
    'r2',
  ]);
});

test('a reading is changed in part', () => {
  const one = addReadings(empty, [{ along: 100, up: 200, distance: 60 }]);
  expect(setReading(one, 'r1', { distance: 61 }).readings[0]).toMatchObject({ along: 100, distance: 61 });
});
