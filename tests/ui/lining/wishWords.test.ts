import { describe, expect, test } from 'vitest';
import { makeSurvey } from '../../../src/app/newSurvey.ts';
import { addFace, setPlane } from '../../../src/app/editPlane.ts';
import type { FaceWish } from '../../../src/core/survey.ts';
import { nameWish, sayAlone, sayOutcome } from '../../../src/ui/lining/wishWords.ts';

const plain = makeSurvey('Wall', 3600, 2450, 'mm');
const withFace = (rule: FaceWish['rule']) =>
  addFace(plain, { kind: 'window board', along: 1500, up: 900, distance: 30, rule });

test('wishes are called by what they are', () => {
  expect(nameWish('lean', plain)).toBe('plumb');
  expect(nameWish('lean', setPlane(plain, { lean: 2 }))).toBe('lean of 2 mm per m at most');
  expect(nameWish('turn', setPlane(plain, { turn: 'laser' }))).toBe('parallel to the laser');
  expect(nameWish('turn', setPlane(plain, { turn: 'square' }))).toBe('square to the wall beside it');
  expect(nameWish('m1', withFace('meet'))).toBe('window board m1');
  expect(nameWish('gone', plain)).toBe('gone');
});

test('a wish is kept, or missed by its own unit: length of a face, slope of a lean or turn', () => {
  const missed = (wish: string) => ({ wish, kept: false, missedBy: 2.54, aloneBy: null });
  expect(sayOutcome({ wish: 'lean', kept: true, missedBy: 0, aloneBy: null }, 'mm')).toBe('Kept');
  expect(sayOutcome(missed('m1'), 'mm')).toBe('Missed by 2.5 mm');
  expect(sayOutcome(missed('m1'), 'inch')).toBe('Missed by 1/8 in');
  expect(sayOutcome(missed('lean'), 'inch')).toBe('Missed by 2.5 mm per m');
});

describe('what would do alone', () => {
  const alone = (wish: string, aloneBy: number | null, survey = plain) =>
    sayAlone({ wish, kept: false, missedBy: 1, aloneBy }, survey);

  test('is nothing where that wish alone would not do', () => {
    expect(alone('lean', null)).toBeNull();
  });

  test('says which wish gives way and by how much', () => {
    expect(alone('lean', 1.24)).toBe('let the plane lean 1.2 mm per m more');
    expect(alone('turn', 3)).toBe('let the plane turn 3 mm per m off that');
    expect(alone('m1', 3, withFace('meet'))).toBe('let window board m1 be 3 mm more off flush');
    expect(alone('m1', 3, withFace('behind'))).toBe('let the boards pass window board m1 by 3 mm more');
  });

  test('a bed that would have to be thinner than nothing means masonry in the way', () => {
    expect(alone('least_bed', 2)).toBe('let the bed be 2 mm thinner at the high points');
    expect(alone('least_bed', 8)).toBe('hack off: masonry would stand 3 mm into the boards');
  });
});
