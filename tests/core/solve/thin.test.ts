import { expect, test } from 'vitest';
import type { LineSamples } from '../../../src/core/line/stretch.ts';
import { thinLine } from '../../../src/core/solve/thin.ts';
import { seedRandom, smoothNoise } from '../../truth/random.ts';

/** A line seen straight on, 1 px per mm: offset goes into v. */
function sample(places: readonly number[], offset: (s: number) => number, sigmaPx = 0.1): LineSamples {
  const s = Float64Array.from(places);
  const out = s.map(offset);
  return { s, out, u: s.slice(), v: out.map((value) => -value), sigmaPx: s.map(() => sigmaPx) };
}
const everyMm = (from: number, to: number) => Array.from({ length: to - from }, (_, k) => from + k);

test('stretches are about 20 mm long, and hold all points', () => {
  const stretches = thinLine(sample(everyMm(0, 1000), () => 0));
  expect(stretches.length).toBe(50);
  expect(stretches.reduce((sum, { count }) => sum + count, 0)).toBe(1000);
  stretches.forEach(({ u }, k) => expect(Math.abs(u - (20 * k + 9.5))).toBeLessThan(1));
});
test('a sloping line keeps its place: the mean is of the middle half', () => {
  thinLine(sample(everyMm(0, 200), (s) => 0.05 * s)).forEach(({ u, v }) =>
    expect(-v).toBeCloseTo(0.05 * u, 12),
  );
});
test('a step is not averaged away', () => {
  const stretches = thinLine(sample(everyMm(0, 400), (s) => (s < 207 ? 0 : 8)));
  stretches.forEach(({ u, v }) => expect(-v).toBeCloseTo(u < 207 ? 0 : 8, 12));
});
test('a gap is not bridged', () => {
  const stretches = thinLine(sample([...everyMm(0, 105), ...everyMm(140, 300)], () => 0));
  expect(stretches.some(({ u }) => u > 104 && u < 140)).toBe(false);
});
test('one wild point in a stretch moves nothing', () => {
  thinLine(sample(everyMm(0, 100), (s) => (s === 50 ? 40 : 0))).forEach(({ v }) =>
    expect(v).toBeCloseTo(0, 12),
  );
});
test('sigma counts one independent value in six px, and no less than the floor', () => {
  const [dense] = thinLine(sample(everyMm(0, 20), () => 0, 0.3));
  expect(dense!.sigmaPx).toBeCloseTo(Math.sqrt((0.09 * 1.2) / (19 / 6) + 0.03 ** 2), 12);
  const [lone] = thinLine(sample([5], () => 0, 0.3));
  expect(lone!.sigmaPx).toBeCloseTo(Math.hypot(0.3, 0.03), 12);
});
test('sigma is what the scatter of many stretches shows, for noise smoothed along the line as found points are', () => {
  const noise = smoothNoise(20_001, seedRandom(4));
  const stretches = thinLine(sample(everyMm(0, 20_000), (s) => 0.3 * noise[s]!, 0.3));
  const rms = Math.sqrt(stretches.reduce((sum, { v }) => sum + v * v, 0) / stretches.length);
  const told = Math.sqrt(stretches.reduce((sum, { sigmaPx }) => sum + sigmaPx ** 2, 0) / stretches.length);
  expect(told / rms).toBeGreaterThan(0.9);
  expect(told / rms).toBeLessThan(1.2);
});
test('no points, no stretches', () => {
  expect(thinLine(sample([], () => 0))).toEqual([]);
});
