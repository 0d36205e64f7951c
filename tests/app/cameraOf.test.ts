import { expect, test } from 'vitest';
import { isSameLens, takePhone, type CameraFacts } from '../../src/app/cameraOf.ts';
import { addPhoto, makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';

const main: CameraFacts = { camera: 'A1', focalMm: 6.8, focal35Mm: 26, digitalZoom: null };
const nothing: CameraFacts = { camera: null, focalMm: null, focal35Mm: null, digitalZoom: null };
const empty = makeSurvey('Wall', 3600, 2450, 'mm');
const facts = { widthPx: 4000, heightPx: 3000, focal35Mm: 26 };

test('a lens is known again by phone and focal length; a zoom or a cut leaves it the same', () => {
  expect(isSameLens(main, { ...main, camera: 'B2' })).toBe(false);
  expect(isSameLens(main, { ...main, focalMm: 2.2, focal35Mm: 13 })).toBe(false);
  expect(isSameLens(main, { ...main, focalMm: null, focal35Mm: 13 })).toBe(false);
  expect(isSameLens(main, { ...main, focal35Mm: 52, digitalZoom: 2 })).toBe(true);
  expect(isSameLens(main, { ...main, focalMm: null, focal35Mm: 52, digitalZoom: 2 })).toBe(true);
  expect(isSameLens(main, { ...main, focalMm: null, focal35Mm: 28 })).toBe(true);
  expect(isSameLens(main, nothing)).toBe(true);
});

test('the first photo names the phone; another lens gets an entry of its own, the first one is found again', () => {
  const first = takePhone(empty, main, new Map());
  expect(first.survey.phones).toMatchObject([{ id: 'p1', name: 'A1' }]);
  const one = addPhoto(first.survey, makePhoto(first.survey, 'photos/a.jpg', facts, undefined, first.phone));
  const known = new Map([['f1', main]]);
  expect(takePhone(one, main, known)).toEqual({ survey: one, phone: 'p1' });
  expect(takePhone(one, nothing, known).phone).toBe('p1');
  const wide = { ...main, focalMm: 2.2, focal35Mm: 13 };
  const second = takePhone(one, wide, known);
  expect(second.survey.phones).toMatchObject([{ id: 'p1' }, { id: 'p2', name: 'A1, 13 mm lens' }]);
  const two = addPhoto(second.survey, makePhoto(second.survey, 'photos/b.jpg', facts, undefined, 'p2'));
  expect(takePhone(two, main, new Map([...known, ['f2', wide]])).phone).toBe('p1');
  expect(
    takePhone(two, { ...main, camera: 'B2' }, new Map([...known, ['f2', wide]])).survey.phones[2],
  ).toEqual({ id: 'p3', name: 'B2', lens: { k1: null, sigma: 0.01 } });
});

test('of the photo before a new one takes phone, colour and the way the line runs, not its place', () => {
  const plumb = { axis: 'plumb', colour: 'red' } as const;
  const survey = addPhoto(empty, makePhoto(empty, 'photos/a.jpg', facts, plumb, 'p7'));
  const next = makePhoto(survey, 'photos/b.jpg', facts);
  expect(next.phone).toBe('p7');
  expect(next.lines).toMatchObject([{ colour: 'red', sheet: { axis: 'plumb', at: null } }]);
  expect(next.stand).toEqual({ off: null, up: null, along: null, sigma: 10 });
});
