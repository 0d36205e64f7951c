import { describe, expect, test } from 'vitest';
import type { Solution } from '../../../src/core/results.ts';
import { makePacked, PACKER_MM, type PackedSurvey } from '../../truth/packed.ts';
import { solveRoughly } from '../../truth/solveRoughly.ts';

const lens = { k1: -0.006, sigma: 0.0005 };
const codesOf = ({ warnings }: Solution) => warnings.map(({ code, subject }) => `${code} ${subject}`);
const gainOf = ({ up, out }: { up: number; out: number }) => (up - 750) / out;
const gainError = ({ photos }: Solution, { cameras }: PackedSurvey) =>
  gainOf(photos[0]!.position) / gainOf(cameras[0]!.position) - 1;

describe('a packer under the line of a badly measured stand', () => {
  const made = makePacked(4, 'plaster', { lens, standNoiseMm: 60 });
  const solution = solveRoughly(made.survey);
  const bare = solveRoughly(made.bare.survey);

  test('sets the gain right', () => {
    expect(Math.abs(gainError(bare, made))).toBeGreaterThan(0.05);
    expect(Math.abs(gainError(solution, made))).toBeLessThan(0.015);
    expect(codesOf(solution).filter((code) => /suspect|block/.test(code))).toEqual([]);
  });
  test('is no wall: its points are not in the profile, and the wall under it is as flat as without', () => {
    const [profile] = solution.profiles;
    const on = (s: number) => s > 1500 && s < 1500 + PACKER_MM;
    expect(profile!.s.some((s) => s > 1400 && s < 1490)).toBe(true);
    expect(profile!.s.filter(on).length).toBe(0);
    expect(bare.profiles[0]!.s.filter(on).length).toBeGreaterThan(50);
    const at = ({ surface }: Solution, along: number) =>
      surface.out[(750 / surface.stepMm) * surface.nx + along / surface.stepMm]!;
    const [under, beside] = [1550, 1350].map((along) => at(solution, along) - at(bare, along));
    expect(Math.abs(under! - beside!)).toBeLessThan(0.5);
  });
});

test('a packer of another thickness than typed is named and bends nothing', () => {
  const right = makePacked(5, 'plaster', { lens });
  const wrong = makePacked(5, 'plaster', { lens, told: 20 });
  const solution = solveRoughly(wrong.survey);
  expect(codesOf(solution)).toContain('block_suspect f1');
  expect(codesOf(solveRoughly(right.survey))).not.toContain('block_suspect f1');
  expect(Math.abs(gainError(solution, wrong))).toBeLessThan(0.05);
});

test('a stretch without points is told, and the survey solves as without it', () => {
  const { bare, block } = makePacked(6, 'plaster', { lens });
  const stray = { ...block, from: -400, to: -300 };
  const solution = solveRoughly({ ...bare.survey, photos: [{ ...bare.survey.photos[0]!, blocks: [stray] }] });
  expect(codesOf(solution)).toContain('block_unseen f1');
  expect(solution.surface).toEqual(solveRoughly(bare.survey).surface);
});
