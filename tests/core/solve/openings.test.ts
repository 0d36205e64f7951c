import { describe, expect, test } from 'vitest';
import { solveSurvey } from '../../../src/core/solve/solve.ts';
import type { Solution } from '../../../src/core/results.ts';
import { makeSurvey, type SurveyOptions } from '../../truth/survey.ts';
import { solveRoughly } from '../../truth/solveRoughly.ts';
import { makeWall, type WallTruth } from '../../truth/wall.ts';

const readingPlaces = [
  [200, 300],
  [200, 2150],
  [1200, 1200],
  [2500, 1200],
  [3400, 300],
  [3400, 2150],
] as const;

/** Errors of a surface (mm) and how its sigma covers them, where `only` says. */
function judge(
  { surface }: Solution,
  truth: WallTruth,
  only: (along: number, up: number) => boolean = () => true,
) {
  const { nx, stepMm, out, sigma } = surface;
  const errors: number[] = [];
  const sigmas: number[] = [];
  out.forEach((value, at) => {
    const [along, up] = [(at % nx) * stepMm, Math.floor(at / nx) * stepMm];
    if (Number.isNaN(value) || !only(along, up)) return;
    errors.push(value - truth(along, up));
    sigmas.push(sigma[at]!);
  });
  const rms = (values: readonly number[]) =>
    Math.sqrt(values.reduce((sum, x) => sum + x * x, 0) / values.length);
  const covered = errors.filter((error, k) => Math.abs(error) < 2 * sigmas[k]!).length / errors.length;
  return { rmsMm: rms(errors), sigmaMm: rms(sigmas), covered };
}

describe('a gateway over the full height, the wall beyond it set back by 20 mm', () => {
  const base = makeWall(1, 'plaster');
  const truth: WallTruth = (along, up) => base(along, up) - (along > 1800 ? 20 : 0);
  const options: SurveyOptions = {
    truth,
    openings: [{ along: 1400, up: 0, width: 800, height: 2450 }],
    plumbs: [430, 3170],
    readingPlaces,
    everyPx: 3,
  };
  const { survey } = makeSurvey(1, 'plaster', options);
  const solution = solveSurvey(survey);
  const atReveals = (along: number) => Math.abs(along - 1800) < 501;

  test('is followed to the reveals on both sides, and nothing is suspected', () => {
    expect(solution.warnings).toEqual([]);
    const reveals = judge(solution, truth, atReveals);
    expect(reveals.rmsMm).toBeLessThan(1.2);
    expect(reveals.covered).toBeGreaterThan(0.9);
    expect(judge(solution, truth).rmsMm).toBeLessThan(1);
  });
  test('has no surface in it', () => {
    const { out, nx, ny, stepMm } = solution.surface;
    for (let j = 0; j < ny; j++) for (let i = 57; i * stepMm < 2200; i++) expect(out[j * nx + i]).toBeNaN();
    expect(out[10 * nx + 1400 / stepMm]).not.toBeNaN();
  });
  test('a part of the wall that nothing was measured on is told by its sigma', () => {
    const { survey: halfSeen } = makeSurvey(1, 'plaster', {
      ...options,
      truth: base,
      levels: [],
      plumbs: [150, 500, 850, 1200],
      readingPlaces: readingPlaces.slice(0, 3),
    });
    const half = solveRoughly(halfSeen);
    const seen = judge(half, base, (along) => along < 1400);
    const unseen = judge(half, base, (along) => along > 2200);
    expect(seen.sigmaMm).toBeLessThan(3);
    expect(seen.covered).toBeGreaterThan(0.9);
    expect(unseen.sigmaMm).toBeGreaterThan(4 * seen.sigmaMm);
    expect(unseen.covered).toBeGreaterThan(0.9);
    expect(half.warnings.map(({ code }) => code)).toContain('surface_uncertain');
  });
});

// Each cuts the field's grid in another way; all must solve, with the wall around as good as without them.
describe('openings of every sort', () => {
  for (const [name, openings] of [
    ['a door that reaches the floor', [{ along: 1350, up: 0, width: 900, height: 2000 }]],
    ['a window up to the ceiling', [{ along: 1350, up: 1500, width: 900, height: 950 }]],
    ['one at the wall’s end', [{ along: 0, up: 400, width: 500, height: 1500 }]],
    ['one of 12 mm, smaller than any step', [{ along: 1502, up: 902, width: 12, height: 12 }]],
    ['a joint of 4 mm over the full height', [{ along: 1501, up: 0, width: 4, height: 2450 }]],
    [
      'two that overlap and two that touch',
      [
        { along: 800, up: 700, width: 600, height: 700 },
        { along: 1200, up: 900, width: 400, height: 700 },
        { along: 2400, up: 800, width: 300, height: 600 },
        { along: 2700, up: 800, width: 300, height: 600 },
      ],
    ],
    ['one that overreaches the wall', [{ along: 3200, up: 1000, width: 900, height: 3000 }]],
  ] as const)
    test(name, () => {
      const { survey, truth } = makeSurvey(7, 'leaning', {
        openings,
        everyPx: 5,
        levels: [250, 1250, 2200],
        plumbs: [430, 3000],
        lens: { k1: -0.006, sigma: 0.001 },
        readingPlaces: [
          [600, 200],
          [600, 2200],
          [3100, 200],
          [3100, 900],
        ],
      });
      const { rmsMm, covered } = judge(solveRoughly(survey), truth);
      expect(rmsMm).toBeLessThan(2);
      expect(covered).toBeGreaterThan(0.9);
    });
});
