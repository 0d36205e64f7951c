import { expect, test } from 'vitest';
import { readStrip, type StripReading } from '../../../src/core/tape/readStrip.ts';
import type { Click } from '../../../src/core/tape/strip.ts';
import { makeStrip, type MadeStripOptions } from './madeStrip.ts';

const rms = (values: readonly number[]) =>
  Math.sqrt(values.reduce((sum, x) => sum + x * x, 0) / values.length);

/** Errors of the graduations read (samples), and in units of their sigma. */
function errorsOf(reading: StripReading, places: readonly number[], pitchMm: number) {
  const off = reading.graduations.map(({ at, place }) => place - places[Math.round((at - 1000) / pitchMm)]!);
  return { off, standard: off.map((error, i) => error / reading.graduations[i]!.sigma) };
}

function read(options: MadeStripOptions, change: (clicks: Click[]) => Click[] = (clicks) => clicks) {
  const { strip, places, clicks } = makeStrip(options);
  return { reading: readStrip(strip, change(clicks), options.pitchMm), places };
}

test.each([
  ['10 mm', 10, 5],
  ['100 mm', 100, 1],
  ['half inches', 12.7, 1],
  ['inches', 25.4, 2],
  ['5 mm', 5, 1],
  ['1 mm', 1, 1],
] as const)('every graduation of %s is read, with true sigmas', (_, pitchMm, finer) => {
  const { reading, places } = read({
    pitchMm,
    finer,
    noise: 9,
    periods: [11, 8],
    shift: (x) => 3 * Math.sin(5 * x),
  });
  expect(reading!.misnamedMm).toBe(0);
  expect(reading!.agree).toBeGreaterThan(105);
  const { off, standard } = errorsOf(reading!, places, pitchMm);
  expect(rms(off)).toBeLessThan(0.12);
  expect(rms(standard)).toBeGreaterThan(0.8);
  expect(rms(standard)).toBeLessThan(1.25);
});

test('what lies on the tape is left out, and counted over', () => {
  const { reading, places } = read({ pitchMm: 10, periods: [9, 9], hidden: [50, 70] });
  expect(reading!.agree).toBeLessThan(102);
  expect(reading!.of).toBeGreaterThan(110);
  expect(reading!.graduations.filter(({ at }) => at > 1505 && at < 1695)).toEqual([]);
  expect(rms(errorsOf(reading!, places, 10).off)).toBeLessThan(0.06);
});

test('clicks that miss by some px do not move the graduations', () => {
  const { reading, places } = read({ pitchMm: 10, periods: [12, 9] }, ([one, other]) => [
    { ...one!, place: one!.place + 4 },
    { ...other!, place: other!.place - 1 },
  ]);
  expect(rms(errorsOf(reading!, places, 10).off)).toBeLessThan(0.06);
});

test.each([10, -10, 100, -100, 1000])('a last mark named %i mm too far is noticed', (mm) => {
  const { reading } = read({ pitchMm: 10, periods: [10, 10], finer: 2 }, ([one, other]) => [
    one!,
    { ...other!, at: other!.at + mm },
  ]);
  expect(reading!.misnamedMm).toBe(mm);
  expect(reading!.graduations).toEqual([]);
});

test('half graduations taken for whole ones are a contradiction', () => {
  const { reading } = read({ pitchMm: 10, periods: [16, 16], finer: 2 }, ([one, other]) => [
    one!,
    { ...other!, at: one!.at + 2 * (other!.at - one!.at) },
  ]);
  expect(reading === null || (reading.misnamedMm !== 0 && reading.graduations.length === 0)).toBe(true);
});

test('nothing is read from noise, from a plain ground, or from strokes nearer than three samples', () => {
  const { strip, clicks } = makeStrip({ pitchMm: 10, periods: [10, 10] });
  const noisy = makeStrip({ pitchMm: 10, periods: [10, 10], noise: 400 });
  expect(readStrip(noisy.strip, noisy.clicks, 10)).toBeNull();
  expect(readStrip({ ...strip, values: strip.values.map(() => 90) }, clicks, 10)).toBeNull();
  expect(read({ pitchMm: 10, periods: [2.5, 2.5] }).reading).toBeNull();
});

test('nothing is read between marks so near that no block of graduations fits', () => {
  const { strip, clicks } = makeStrip({ pitchMm: 10, periods: [10, 10] });
  const near = [clicks[0]!, { at: clicks[0]!.at + 10, place: clicks[0]!.place + 200 }];
  expect(readStrip(strip, near, 10)).toBeNull();
});
