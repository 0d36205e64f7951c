import { describe, expect, test } from 'vitest';
import type { Solution } from '../../../src/core/results.ts';
import { makeSurvey, type MadeSurvey, type SurveyOptions } from '../../truth/survey.ts';
import { solveRoughly } from '../../truth/solveRoughly.ts';

// Eight photos, four marks of 1 px, stand to 10 mm, EXIF focal length off by 2 %, six readings.
const usual: SurveyOptions = { focalRatio: 1.02 };
const SEEDS = [21, 22, 23, 24];

/** 95 % of the errors along all lines, mm. */
function findLineError({ profiles }: Solution, { truth }: MadeSurvey): number {
  const sizes = profiles.flatMap(({ axis, atMm, s, out }) =>
    Array.from(s, (place, k) =>
      Math.abs(out[k]! - (axis === 'level' ? truth(place, atMm) : truth(atMm, place))),
    ),
  );
  return sizes.sort((a, b) => a - b)[Math.floor(0.95 * sizes.length)]!;
}

/** Root mean square of the errors over the whole wall, mm. */
function findWallError({ surface }: Solution, { survey: { wall }, truth }: MadeSurvey): number {
  let sum = 0;
  let count = 0;
  surface.out.forEach((out, at) => {
    const along = (at % surface.nx) * surface.stepMm;
    const up = Math.floor(at / surface.nx) * surface.stepMm;
    if (Number.isNaN(out) || along > wall.width || up > wall.height) return;
    sum += (out - truth(along, up)) ** 2;
    count++;
  });
  return Math.sqrt(sum / count);
}

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

describe('the usual layout', () => {
  test('readings to 0.7 mm, lens unknown: 95 % along the lines within 1.4 mm; the wall no worse than lines a quarter off allow', () => {
    const errors = SEEDS.map((seed) => {
      const made = makeSurvey(seed, 'plaster', usual);
      const solution = solveRoughly(made.survey);
      // the same readings, with lines, marks and stands without error
      const exact = { lineNoisePx: 0, markNoisePx: 0, standNoiseMm: 0, focalRatio: 1 };
      const sharp = makeSurvey(seed, 'plaster', { ...exact, lens: { k1: -0.006, sigma: 0.0001 } });
      const allowed = solveRoughly({ ...sharp.survey, readings: made.survey.readings });
      return {
        line: findLineError(solution, made),
        wall: findWallError(solution, made),
        allowed: findWallError(allowed, made),
      };
    });
    expect(mean(errors.map(({ line }) => line))).toBeLessThan(1.4);
    expect(mean(errors.map(({ line }) => line))).toBeGreaterThan(0.3);
    const ratio = mean(errors.map(({ wall }) => wall)) / mean(errors.map(({ allowed }) => allowed));
    expect(ratio).toBeLessThan(1.25);
    expect(ratio).toBeGreaterThan(0.8);
  });
  test('readings to 0.3 mm, lens known: within 0.7 mm', () => {
    const errors = SEEDS.map((seed) => {
      const known = { ...usual, readingNoiseMm: 0.3, lens: { k1: -0.006, sigma: 0.0002 } };
      const made = makeSurvey(seed, 'plaster', known);
      return findLineError(solveRoughly(made.survey), made);
    });
    expect(mean(errors)).toBeLessThan(0.7);
    expect(mean(errors)).toBeGreaterThan(0.1);
  });
});
