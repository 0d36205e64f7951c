import { expect, test } from 'vitest';
import { fillWanted, wantedOf } from '../../src/app/editWanted.ts';
import { addPhoto, makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import { nextLevel, nextPlumb, nextReading } from '../draw/advice.ts';

const bare = makeSurvey('Store', 3600, 2450, 'mm');
const facts = { widthPx: 4000, heightPx: 3000, focal35Mm: 26 };
const survey = addPhoto(bare, makePhoto(bare, 'photos/f1.jpg', facts, { axis: 'level', colour: 'green' }));

test('an advised measurement is set out for by what has to be typed of it', () => {
  expect(wantedOf(nextLevel)).toEqual({ kind: 'line', axis: 'level', at: 1550 });
  expect(wantedOf(nextPlumb)).toEqual({ kind: 'line', axis: 'plumb', at: 950 });
  expect(wantedOf(nextReading)).toEqual({ kind: 'reading', along: 2450, up: 1150 });
});

test('a new photo is of the line set out for, whichever way it runs', () => {
  for (const next of [nextLevel, nextPlumb]) {
    const [photo] = fillWanted(survey, 'f1', wantedOf(next)).photos;
    expect(photo!.lines).toHaveLength(1);
    expect(photo!.lines[0]!.sheet).toEqual({ axis: next.kind, at: next.kind === 'level' ? 1550 : 950 });
  }
});

test('nothing is filled in where nothing was set out for, or something else, or a place is typed already', () => {
  expect(fillWanted(survey, 'f1', null)).toBe(survey);
  expect(fillWanted(survey, 'f1', wantedOf(nextReading))).toBe(survey);
  expect(fillWanted(survey, 'f9', wantedOf(nextLevel))).toBe(survey);
  const typed = fillWanted(survey, 'f1', wantedOf(nextLevel));
  expect(fillWanted(typed, 'f1', wantedOf(nextPlumb))).toBe(typed);
});
