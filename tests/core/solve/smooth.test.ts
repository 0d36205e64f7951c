import { expect, test } from 'vitest';
import { smoothOffsets } from '../../../src/core/solve/smooth.ts';
import { seedRandom, smoothNoise } from '../../truth/random.ts';

const places = Float64Array.from({ length: 600 }, (_, k) => k * 0.9);
const noiseMm = 0.5;
/** Noise smoothed along the line as that of found points is. */
const makeNoise = (seed: number) =>
  smoothNoise(places.length, seedRandom(seed)).map((each) => noiseMm * each);
const rms = (values: Float64Array) =>
  Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);

test('takes a third and more of the noise of found points off a slope, and says what is left', () => {
  const truth = places.map((place) => -60 + 0.02 * place);
  for (const seed of [1, 2, 3]) {
    const noisy = makeNoise(seed).map((each, k) => truth[k]! + each);
    const smooth = smoothOffsets(places, noisy, new Float64Array(places.length).fill(noiseMm));
    const inside = smooth.out.map((out, k) => out - truth[k]!).slice(20, -20);
    expect(rms(inside)).toBeLessThan(0.65 * noiseMm);
    expect(rms(inside) / smooth.noise[300]!).toBeGreaterThan(0.7);
    expect(rms(inside) / smooth.noise[300]!).toBeLessThan(1.3);
  }
});

test('keeps a step of 3 mm where it is: no point two places off it moves by more than the noise', () => {
  const truth = places.map((place) => (place < 270 ? -60 : -63));
  const noisy = makeNoise(4).map((each, k) => truth[k]! + each);
  const { out } = smoothOffsets(places, noisy, new Float64Array(places.length).fill(noiseMm));
  out.forEach((each, k) => {
    if (Math.abs(k - 300) > 2) expect(Math.abs(each - truth[k]!)).toBeLessThan(3 * noiseMm);
  });
});

test('a line without noise, a single point and no point stay as they are', () => {
  const straight = places.map((place) => 0.01 * place);
  const { out } = smoothOffsets(places, straight, new Float64Array(places.length).fill(noiseMm));
  out.slice(20, -20).forEach((each, k) => expect(each).toBeCloseTo(straight[k + 20]!, 6));
  expect([...smoothOffsets(Float64Array.of(5), Float64Array.of(-61), Float64Array.of(0.4)).out]).toEqual([
    -61,
  ]);
  expect(smoothOffsets(new Float64Array(0), new Float64Array(0), new Float64Array(0)).out).toHaveLength(0);
});
