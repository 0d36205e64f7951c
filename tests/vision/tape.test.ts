import { expect, test } from 'vitest';
import type { Mark } from '../../src/core/survey.ts';
import { readTape, readTapes } from '../../src/vision/tape.ts';
import { makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import { photographTape, type TapePhotograph, type TapePhotographOptions } from '../truth/tapePhotograph.ts';

const taken = new Map<string, TapePhotograph>();
/** The photograph with these options, taken once. */
function take(options: TapePhotographOptions): TapePhotograph {
  const key = JSON.stringify(options);
  const known = taken.get(key) ?? photographTape(options);
  taken.set(key, known);
  return known;
}

/** Errors of the graduations square to their strokes (px), and in units of their sigma. */
function errorsOf(made: TapePhotograph, marks: readonly Mark[] = made.marks) {
  const reading = readTape(made.picture, marks, made.tape, made.scene.camera);
  const off = reading.graduations.map(({ at, u, v }) => {
    const truth = made.truthAt(at);
    return (u - truth.u) * truth.squareU + (v - truth.v) * truth.squareV;
  });
  const rms = (values: readonly number[]) =>
    Math.sqrt(values.reduce((sum, x) => sum + x * x, 0) / values.length);
  const standard = off.map((error, i) => error / reading.graduations[i]!.sigma);
  return { reading, rmsPx: rms(off), standardRms: rms(standard) };
}

const change = (marks: readonly Mark[], index: number, part: Partial<Mark>) =>
  marks.map((mark, i) => (i === index ? { ...mark, ...part } : mark));

test.each([
  [4, {}],
  [5, {}],
  [6, {}],
  [8, {}],
  [10, {}],
  [8, { blurPx: 1.2 }],
  [8, { axis: 'up' }],
  [8, { kind: 'brick' }],
  [8, { power: 6 }],
] as const)(
  'at %i px for 10 mm, %o: nearly all graduations, to 0.2 px, with true sigmas',
  (pxPer10Mm, more) => {
    const { reading, rmsPx, standardRms } = errorsOf(take({ pxPer10Mm, ...more }));
    expect(reading).toMatchObject({ legible: true, misnamedMm: 0 });
    expect(reading.agree).toBeGreaterThan(0.88 * reading.of);
    expect(reading.agree).toBeGreaterThan(100);
    expect(rmsPx).toBeLessThan(0.2);
    expect(standardRms).toBeGreaterThan(0.8);
    expect(standardRms).toBeLessThan(1.25);
  },
);

test.each([2, 3])('at %i px for 10 mm nothing is read: the clicks stand', (pxPer10Mm) => {
  const { reading } = errorsOf(take({ pxPer10Mm }));
  expect(reading).toEqual({ legible: false, graduations: [], rmsPx: 0, agree: 0, of: 0, misnamedMm: 0 });
});

test.each([
  ['a blurred picture', { pxPer10Mm: 5, blurPx: 3 }],
  ['a plain wall', { pxPer10Mm: 8, withTape: false }],
  ['brick', { pxPer10Mm: 8, withTape: false, kind: 'brick' }],
] as const)('nothing is read in %s', (_, options) => {
  expect(errorsOf(take(options)).reading.legible).toBe(false);
});

test.each([4, 8])('at %i px for 10 mm clicks 3 px off change no graduation', (pxPer10Mm) => {
  const made = take({ pxPer10Mm });
  const [one, other] = made.marks as [Mark, Mark];
  const off = [
    { ...one, u: one.u + 3, v: one.v + 1 },
    { ...other, u: other.u - 2, v: other.v - 1 },
  ];
  const { reading, rmsPx } = errorsOf(made, off);
  expect(reading.legible).toBe(true);
  expect(rmsPx).toBeLessThan(0.25);
});

test('a click 5 px off on a tape of 4 px for 10 mm numbers no graduation wrongly', () => {
  const made = take({ pxPer10Mm: 4 });
  const marks = change(made.marks, 0, { u: made.marks[0]!.u + 5 });
  const { reading, rmsPx } = errorsOf(made, marks);
  expect(!reading.legible || rmsPx < 0.3).toBe(true);
});

test.each([
  [4, 100],
  [5, -100],
  [8, 10],
  [8, 100],
  [10, -10],
  [10, 1000],
])('at %i px for 10 mm a mark named off by %i mm is noticed, and no graduation used', (pxPer10Mm, mm) => {
  const made = take({ pxPer10Mm });
  const named = change(made.marks, 1, { along: made.marks[1]!.along + mm });
  const reading = readTape(made.picture, named, made.tape);
  expect(reading.misnamedMm).toBe(mm);
  expect(reading.graduations).toEqual([]);
  const turned = readTape(made.picture, named, { ...made.tape, from: 1, to: 0 });
  expect(turned.misnamedMm).toBe(-mm);
});

test('a hand over part of the tape leaves the rest, counted right on both sides', () => {
  const made = take({ pxPer10Mm: 8 });
  const { widthPx, heightPx } = made.picture;
  const rgba = made.picture.rgba.slice();
  for (let v = 0; v < heightPx; v++)
    for (let u = 480; u < 640; u++) rgba.set([200, 150, 120, 255], 4 * (v * widthPx + u));
  const { reading, rmsPx } = errorsOf({ ...made, picture: { widthPx, heightPx, rgba } });
  expect(reading.legible).toBe(true);
  expect(reading.of - reading.agree).toBeGreaterThan(15);
  expect(reading.graduations.some(({ u }) => u > 490 && u < 630)).toBe(false);
  expect(reading.graduations.some(({ u }) => u > 650)).toBe(true);
  expect(rmsPx).toBeLessThan(0.25);
});

test('half a per cent of the pixels changed by one level move graduations by less than 0.05 px', () => {
  const made = take({ pxPer10Mm: 8 });
  const rgba = made.picture.rgba.slice();
  for (let i = 0; i < rgba.length; i += 800) rgba[i] = Math.min(255, rgba[i]! + 1);
  const before = new Map(errorsOf(made).reading.graduations.map((each) => [each.at, each]));
  const after = readTape({ ...made.picture, rgba }, made.marks, made.tape, made.scene.camera);
  for (const { at, u, v } of after.graduations) {
    const old = before.get(at);
    if (old) expect(Math.hypot(u - old.u, v - old.v)).toBeLessThan(0.05);
  }
});

test('tapes read already are read again only when asked; marks that are no tape make it illegible', () => {
  const made = take({ pxPer10Mm: 8 });
  const base = makeSurvey('Wall', 3600, 2450, 'mm');
  const facts = { widthPx: 1200, heightPx: 260, focal35Mm: null };
  const empty = makePhoto(base, 'photos/a.jpg', facts, { axis: 'level', colour: 'green' });
  expect(readTapes(made.picture, empty)).toBe(empty);
  const photo = { ...empty, marks: made.marks, tapes: [made.tape] };
  const read = readTapes(made.picture, photo);
  expect(read.tapes[0]!.read!.legible).toBe(true);
  expect(readTapes(made.picture, read)).toBe(read);
  expect(readTapes(made.picture, read, true).tapes).toEqual(read.tapes);
  const one = made.marks[0]!;
  for (const marks of [[], [one, one], [one, { ...made.marks[1]!, along: one.along }]])
    expect(readTape(made.picture, marks, made.tape).legible).toBe(false);
});
