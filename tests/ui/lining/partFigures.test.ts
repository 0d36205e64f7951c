import { expect, test } from 'vitest';
import type { LiningPlan } from '../../../src/core/results.ts';
import { makeSurvey } from '../../../src/app/newSurvey.ts';
import { findFace, findFaceEnds, sayTime, sumUpPart } from '../../../src/ui/lining/partFigures.ts';
import { findSquareBy } from '../../../src/ui/lining/squareness.ts';
import { sayReason } from '../../../src/ui/lining/verdictWords.ts';

const survey = makeSurvey('Wall', 4000, 2450, 'mm');
const part = (of: Partial<LiningPlan>) => of as LiningPlan;

test("the boards' face stands a board's thickness in front of the bed plane", () => {
  expect(findFace(survey, part({ meanBedMm: 10, maxBedMm: 30 }))).toEqual({ meanMm: 22.5, mostMm: 42.5 });
  const ends = findFaceEnds(survey, part({ bedPlane: { p: -50, q: 0.002, r: 0 } }));
  expect(ends.leftMm).toBeCloseTo(37.5, 9);
  expect(ends.rightMm).toBeCloseTo(29.5, 9);
});

test('times are told as one plans a day with them', () => {
  expect([1, 34, 119, 120, 134, 345].map(sayTime)).toEqual([
    '10 min',
    '30 min',
    '120 min',
    '2 h',
    '2 h',
    '6 h',
  ]);
});

test('the boards are summed up with what must be bought, the waste and the reveals, where there are any', () => {
  const stock = [
    { width: 1200, length: 2400, count: 3 },
    { width: 1200, length: 3000, count: 1 },
  ];
  const cutting = { sheets: [], stock, cuts: 5, wasteShare: 0.118, sheetsLeast: 4, proven: true };
  const boards = [{}, {}, {}] as unknown as LiningPlan['boards'];
  expect(sumUpPart('boards', survey, part({ boards, cutting, reveals: [] }))).toBe(
    '4 boards to buy, 3 pieces on the wall, 12 % waste',
  );
});

test('screws near services are told, none of them is not', () => {
  const screws = [{ services: null }, { services: 'b1' }] as unknown as LiningPlan['screws'];
  expect(sumUpPart('screws', survey, part({ screws }))).toBe('2 screws, 1 where cables or pipes are likely');
  expect(sumUpPart('screws', survey, part({ screws: screws.slice(0, 1) }))).toBe('1 screw');
});

test('a wall beside it that runs away to the left asks for boards further out to the right, whichever end it stands at', () => {
  // seen from above: the wall beside runs from (0, 0) to (-6, 2000); square to it is (1000, 3)
  const [aside, into] = [-6, 2000];
  const squareBy = findSquareBy({ end: 'left', nearMm: 500, farMm: 500 - aside, apartMm: into });
  expect(aside * 1000 + into * squareBy).toBeCloseTo(0, 9);
  // the same direction at the right end: the offset to the right gets less
  expect(findSquareBy({ end: 'right', nearMm: 500, farMm: 500 + aside, apartMm: into })).toBeCloseTo(
    squareBy,
    9,
  );
});

test('reasons of the verdict name their share, area and depth', () => {
  const bed = { min: 5, max: 20, packedMax: 40 };
  expect(sayReason({ code: 'within_limits', maxBedMm: 18.2 }, bed, 'mm')).toContain('18.2 mm at its deepest');
  expect(sayReason({ code: 'over_max', share: 0.004, areaM2: 0.03, maxBedMm: 22 }, bed, 'mm')).toMatch(
    /^under 1 % of the wall \(0\.03 m²\) is deeper than the 20 mm/,
  );
  const hacked = { code: 'hacking_off', spots: 1, overMaxShare: 0.2, overPackedShare: 0 } as const;
  expect(sayReason(hacked, bed, 'mm')).toBe(
    'Hacking off one high spot would leave 20 % of it too deep for adhesive alone.',
  );
});
