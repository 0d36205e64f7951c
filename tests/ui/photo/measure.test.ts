import { expect, test } from 'vitest';
import { doubtPlacing, guessReliefMm } from '../../../src/ui/photo/doubt.ts';
import { blunderWords } from '../../../src/ui/photo/blunderWords.ts';
import {
  expectLine,
  meanOutMm,
  placeOnLine,
  placeOnWall,
  placePhoto,
  seeLine,
} from '../../../src/ui/photo/measure.ts';
import { listSuspects, nearestPoint, nextStretch } from '../../../src/ui/photo/reach.ts';
import { guessTapeLie, placeOfReading, readingAxis } from '../../../src/ui/photo/tapeLie.ts';
import { makeSurvey } from '../../truth/survey.ts';

const exact = { markNoisePx: 0, lineNoisePx: 0, standNoiseMm: 0, readingNoiseMm: 0, everyPx: 20 };
const { survey, cameras } = makeSurvey(61, 'plaster', { ...exact, k1: 0, focalRatio: 1 });
const photo = survey.photos[0]!;
const line = photo.lines[0]!;
const lens = survey.phones[0]!.lens;
const outMm = meanOutMm(survey.readings);
const placing = placePhoto(photo, lens, outMm);

test('a photo by itself sees a flat wall as flat, where it is', () => {
  const flat = makeSurvey(62, 'plaster', { ...exact, k1: 0, focalRatio: 1, truth: () => -63 });
  const [first] = flat.survey.photos;
  const there = placePhoto(first!, lens, meanOutMm(flat.survey.readings));
  const seen = seeLine(first!, first!.lines[0]!, there);
  expect(seen.found!.out.length).toBe(first!.lines[0]!.points.length);
  for (const out of seen.found!.out) expect(out).toBeCloseTo(-63, 3);
  const place = placeOnLine(there, first!.lines[0]!, first!.lines[0]!.points[40]!)!;
  expect(place.out).toBeCloseTo(seen.found!.out[40]!, 9);
});

test('what a tape reads beside the line is guessed to a centimetre or two', () => {
  const { marks } = photo;
  const guess = placeOnWall(placing, marks[1]!, outMm)!;
  expect(Math.abs(guess.along - marks[1]!.along)).toBeLessThan(20);
});

test('too few marks are refused, not measured; a picture of unknown size too', () => {
  const few = { ...photo, marks: photo.marks.slice(0, 1) };
  expect(placePhoto(few, lens, 0).refusal).toEqual({ code: 'marks_few', photo: 'f1', count: 1 });
  expect(seeLine(few, line, placePhoto(few, lens, 0)).refusal!.code).toBe('marks_few');
  expect(placePhoto({ ...photo, widthPx: undefined }, lens, 0).refusal!.code).toBe('photo_missing');
  const untyped = { ...line, sheet: { ...line.sheet, at: null } };
  expect(seeLine(photo, untyped, placing).refusal!.code).toBe('line_height_missing');
  expect(placeOnLine(placing, untyped, { u: 0, v: 0 })).toBeNull();
});

test('before any mark is set, stand and focal length say what a pixel is worth', () => {
  const bare = { ...photo, marks: [] };
  const expected = expectLine(bare, line, 4032)!;
  const seen = seeLine(photo, line, placing);
  const middle = seen.found!.outPerPx[seen.found!.outPerPx.length >> 1]!;
  expect(expected.outPerPx / middle).toBeGreaterThan(0.8);
  expect(expected.outPerPx / middle).toBeLessThan(1.25);
  expect(expected.moveShare).toBeCloseTo(
    Math.abs(cameras[0]!.position.up - line.sheet.at!) / cameras[0]!.position.out,
    6,
  );
  expect(expectLine({ ...bare, stand: { ...photo.stand, off: null } }, line, 4032)).toBeNull();
});

test('an uneven wall raises no doubt, a mark typed wrong does and is among those named', () => {
  const reliefMm = guessReliefMm(survey.readings);
  const doubtOf = (each: typeof photo) =>
    doubtPlacing(each, lens, outMm, reliefMm, placePhoto(each, lens, outMm));
  for (const each of survey.photos) expect(doubtOf(each).agrees, each.id).toBe(true);
  for (const wrong of [0, 1, 2, 3]) {
    const marks = photo.marks.map((mark, i) => (i === wrong ? { ...mark, along: mark.along - 100 } : mark));
    const { agrees, blunders, marks: named } = doubtOf({ ...photo, marks });
    expect(agrees).toBe(false);
    expect(blunders).toContainEqual({ kind: 'mark', mark: wrong });
    expect(named).toContain(wrong);
  }
  expect(guessReliefMm([])).toBe(8);
});

test('every kind of mistake has its words, and what cannot be told apart is said together', () => {
  expect(blunderWords([{ kind: 'mark', mark: 2 }])).toBe('Something does not agree here. Check mark 3.');
  const marks = [3, 0, 1].map((mark) => ({ kind: 'mark', mark }) as const);
  expect(blunderWords(marks)).toContain('Check marks 1, 2 and 4. One more mark');
  expect(blunderWords([{ kind: 'swapped', first: 0, second: 2 }])).toContain('marks 1 and 3 are swapped');
  for (const [measure, word] of [
    ['off', 'off the laser'],
    ['up', 'above the floor'],
    ['along', 'left end'],
  ] as const)
    expect(blunderWords([{ kind: 'stand', measure }])).toContain(word);
  expect(blunderWords([])).toContain('do not agree');
});

test('how a tape lies is read off its marks', () => {
  expect(guessTapeLie(photo)).toEqual({ kind: 'along', acrossMm: photo.marks[0]!.up, zeroMm: 0 });
  const bare = { ...photo, marks: [], tapes: [] };
  expect(guessTapeLie(bare)).toEqual({ kind: 'along', acrossMm: null, zeroMm: 0 });
  const lie = { kind: 'up', acrossMm: 1559, zeroMm: 20 } as const;
  expect(placeOfReading(lie, 500)).toEqual({ along: 1559, up: 520 });
  expect(placeOfReading({ ...lie, kind: 'along' }, 500)).toEqual({ along: 520, up: 1559 });
  expect(readingAxis(photo, 1)).toBe('along');
  expect(readingAxis({ ...photo, tapes: [] }, 1)).toBeNull();
});

test('the nearest point counts only within reach; suspects go round', () => {
  const points = [
    { u: 0, v: 0, state: 'suspect' },
    { u: 5, v: 0, state: 'suspect' },
    { u: 9, v: 0, state: 'found' },
    { u: 12, v: 0, state: 'suspect' },
  ];
  expect(nearestPoint(points, { u: 6, v: 0 }, 3)).toEqual({ index: 1, apartPx: 1 });
  expect(nearestPoint(points, { u: 6, v: 4 }, 3)).toBeNull();
  const stretches = listSuspects(points);
  expect(stretches).toEqual([
    { first: 0, last: 1 },
    { first: 3, last: 3 },
  ]);
  expect(nextStretch(stretches, 1, 1)).toEqual({ first: 3, last: 3 });
  expect(nextStretch(stretches, 3, 1)).toEqual({ first: 0, last: 1 });
  expect(nextStretch(stretches, 0, -1)).toEqual({ first: 3, last: 3 });
  expect(nextStretch(stretches, 3, -1)).toEqual({ first: 0, last: 1 });
  expect(nextStretch([], 0, 1)).toBeNull();
});
