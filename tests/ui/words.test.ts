import { expect, test } from 'vitest';
import type { Refusal } from '../../src/core/refusal.ts';
import { refusalCodes, sayRefusal, sentenceOf, warningSentences } from '../../src/ui/words.ts';

// one of each field any refusal can carry, so that every sentence can be made
const everything = {
  photo: 'f1',
  file: 'wall.jpg',
  kind: 'PDF',
  line: 'l1',
  path: 'wall.width',
  problem: 'expected a number',
  widthPx: 10,
  heightPx: 20,
  count: 1,
  first: 0,
  second: 1,
  mark: 2,
  offsetSigmaMm: 4.26,
  asideMm: 12.3,
  version: 2,
  known: 1,
  edge: 1,
  sigma: 0.012,
};

test('every refusal has a sentence that names its facts and says what to do next', () => {
  expect(refusalCodes.length).toBeGreaterThan(20);
  for (const code of refusalCodes) {
    const sentence = sayRefusal({ ...everything, code } as Refusal);
    expect(sentence, code).toMatch(/^[A-Z$a-z].{30,}[.]$/);
    expect(sentence, code).not.toMatch(/undefined|NaN|\[object/);
    expect(sentence.split('.').filter((part) => part.trim()).length, code).toBeGreaterThan(1);
  }
});

test('every warning has a sentence', () => {
  for (const [code, say] of Object.entries(warningSentences))
    expect(say('Photo f1', 1), code).toMatch(/.{30,}[.]$/);
});

test('a HEIC picture is refused with its cure, another kind by name', () => {
  const ofKind = (kind: string) => sayRefusal({ code: 'picture_kind_unknown', file: 'a.jpg', kind });
  expect(ofKind('heic')).toContain('most compatible');
  expect(ofKind('webp')).toContain('kind WEBP');
});

test('numbers read as a person says them', () => {
  expect(sentenceOf({ code: 'marks_few', photo: 'f1', count: 1 })).toContain('only 1 mark.');
  expect(sentenceOf({ code: 'readings_few', count: 2 })).toContain('There are 2 readings.');
  expect(sentenceOf({ code: 'stand_weak', photo: 'f1', offsetSigmaMm: 4.26 })).toContain('±4.3 mm');
});
