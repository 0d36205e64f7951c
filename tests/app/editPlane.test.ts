import { expect, test } from 'vitest';
import {
  addFace,
  dropFace,
  dropHackOff,
  findOption,
  setFace,
  setHackOff,
  setPlane,
} from '../../src/app/editPlane.ts';
import { makeSurvey } from '../../src/app/newSurvey.ts';
import { parseSurvey } from '../../src/file/survey.ts';

const plain = makeSurvey('Wall', 3600, 2450, 'mm');
const lining = { kind: 'door lining', along: 900, up: 1000, distance: 38, rule: 'meet' } as const;

test('a wish taken back leaves the lining as it was', () => {
  const wished = setPlane(plain, { turn: 'laser', sigmas: 2 });
  expect(wished.lining.plane).toEqual({ turn: 'laser', sigmas: 2 });
  expect(setPlane(wished, { turn: undefined, sigmas: undefined })).toEqual(plain);
});

test('faces get ids of their own, change and go', () => {
  const two = addFace(addFace(plain, lining), { ...lining, kind: 'other' });
  expect(two.lining.plane?.faces?.map(({ id }) => id)).toEqual(['m1', 'm2']);
  const changed = setFace(two, 'm2', { distance: 40, tolerance: 2 });
  expect(changed.lining.plane?.faces?.[1]).toMatchObject({ id: 'm2', distance: 40, tolerance: 2 });
  expect(changed.lining.plane?.faces?.[0]).toBe(two.lining.plane?.faces?.[0]);
  expect(setFace(changed, 'm2', { tolerance: undefined }).lining.plane?.faces?.[1]).not.toHaveProperty(
    'tolerance',
  );
  expect(dropFace(dropFace(changed, 'm1'), 'm2')).toEqual(plain);
});

test('picked spots are kept by their middles alone, and none leaves no list', () => {
  const spots = [
    { along: 900, up: 700, id: 'h1', depthMm: 5 },
    { along: 2900, up: 1900, id: 'h2', depthMm: 6 },
  ];
  const picked = setHackOff(plain, spots);
  expect(picked.lining.hackOff).toEqual([
    { along: 900, up: 700 },
    { along: 2900, up: 1900 },
  ]);
  expect(dropHackOff(picked, spots[0]!).lining.hackOff).toEqual([{ along: 2900, up: 1900 }]);
  expect(dropHackOff(dropHackOff(picked, spots[0]!), spots[1]!)).toEqual(plain);
});

test('picked spots are known again as an option in any order; one spot more or elsewhere is a choice of its own', () => {
  const [a, b, c] = [
    { along: 1, up: 1 },
    { along: 500, up: 2 },
    { along: 900, up: 3 },
  ];
  const options = [{ spots: [] }, { spots: [a] }, { spots: [a, b] }];
  expect(findOption([], options)).toBe(0);
  expect(findOption([b, a], options)).toBe(2);
  expect(findOption([a, c], options)).toBeNull();
  expect(findOption([a, b, c], options)).toBeNull();
});

test('what is set here is read back from the survey file as it was', () => {
  const survey = setHackOff(addFace(setPlane(plain, { lean: 2, turn: 'square', squareBy: -3 }), lining), [
    { along: 10, up: 20 },
  ]);
  expect(parseSurvey(JSON.stringify(survey), 'survey.json').lining).toEqual(survey.lining);
});
