import { expect, test } from 'vitest';
import type { Solution } from '../../../src/core/results.ts';
import { makeSurvey, type MadeSurvey, type SurveyOptions } from '../../truth/survey.ts';
import { solveRoughly } from '../../truth/solveRoughly.ts';

const errorsAlong = ({ profiles }: Solution, { truth }: MadeSurvey) =>
  profiles.flatMap(({ axis, atMm, s, out, sigma }) =>
    Array.from(s, (place, k) => ({
      error: out[k]! - (axis === 'level' ? truth(place, atMm) : truth(atMm, place)),
      sigma: sigma[k]!,
    })),
  );
const rms = (values: readonly number[]) =>
  Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
const quick: SurveyOptions = { everyPx: 4 };

test('a lens with a second radial term: the wall is as good as without one, and its sigma as honest', () => {
  const spread = [0, 0.004, -0.004].map((k2) => {
    const runs = [61, 62].map((seed) => {
      const made = makeSurvey(seed, 'plaster', { ...quick, k2 });
      return errorsAlong(solveRoughly(made.survey), made);
    });
    const all = runs.flat();
    expect(all.filter(({ error, sigma }) => Math.abs(error) < 2 * sigma).length / all.length).toBeGreaterThan(
      0.9,
    );
    return { error: rms(all.map(({ error }) => error)), sigma: rms(all.map(({ sigma }) => sigma)) };
  });
  for (const { error, sigma } of spread) {
    expect(error / spread[0]!.error).toBeLessThan(1.1);
    expect(sigma / spread[0]!.sigma).toBeLessThan(1.02);
  }
});

test('k2 is told where the photographs tell it, and not where they hardly do', () => {
  const wide = { k1: null, sigma: 0.02, k2: 0, k2Sigma: 0.1 };
  const sharp = { markNoisePx: 0.2, lineNoisePx: 0.03, readingNoiseMm: 0.2, standNoiseMm: 2 };
  const made = makeSurvey(63, 'plaster', { ...quick, ...sharp, k2: 0.06, k1: -0.03, lens: wide });
  const { phones } = solveRoughly(made.survey);
  const { k1, sigma, k2, k2Sigma } = phones[0]!;
  expect(k2Sigma!).toBeLessThan(0.06);
  expect(Math.abs(k2! - 0.06)).toBeLessThan(3 * k2Sigma!);
  expect(Math.abs(k2!)).toBeGreaterThan(2 * k2Sigma!);
  expect(Math.abs(k1 + 0.03)).toBeLessThan(3 * sigma);
  const plain = solveRoughly(makeSurvey(63, 'plaster', quick).survey);
  expect(plain.phones[0]).not.toHaveProperty('k2');
  expect(plain.phones[0]).not.toHaveProperty('k2Sigma');
});

test('a k2 known beforehand is used: taken as 0 the same lens bends the wall', () => {
  const k2 = 0.04;
  const errorWith = (lens: NonNullable<SurveyOptions['lens']>) => {
    const made = makeSurvey(64, 'plaster', { ...quick, k2, lens, readingNoiseMm: 0.3 });
    const solution = solveRoughly(made.survey);
    return rms(errorsAlong(solution, made).map(({ error }) => error));
  };
  const known = errorWith({ k1: -0.006, sigma: 0.0005, k2, k2Sigma: 0.0005 });
  const taken = errorWith({ k1: -0.006, sigma: 0.0005, k2: 0, k2Sigma: 0.0005 });
  expect(known).toBeLessThan(0.5);
  expect(taken).toBeGreaterThan(1.5 * known);
});
