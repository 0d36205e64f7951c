import { describe, expect, test } from 'vitest';
import { solveSurvey } from '../../../src/core/solve/solve.ts';
import { makeSurvey } from '../../truth/survey.ts';
import { solveRoughly } from '../../truth/solveRoughly.ts';
import { makeWall } from '../../truth/wall.ts';

const stepped = (seed: number, at: number, outMm: number, isLevel = false) => {
  const face = makeWall(seed, 'plaster', 3600, 2450);
  return (along: number, up: number) => face(along, up) + ((isLevel ? up : along) > at ? outMm : 0);
};

describe('a face that steps', () => {
  test.each([
    ['forward by 8 mm, 1.7 m from the left', 1700, 8],
    ['back by 12 mm, 2.3 m from the left', 2300, -12],
  ] as const)('%s: found, and not smeared', (_, at, outMm) => {
    const made = makeSurvey(5, 'plaster', { truth: stepped(5, at, outMm) });
    const { setbacks, surface, warnings } = solveSurvey(made.survey);
    expect(setbacks.length).toBe(1);
    expect(setbacks[0]).toMatchObject({ axis: 'plumb', fromMm: 0, toMm: 2450 });
    expect(Math.abs(setbacks[0]!.atMm - at)).toBeLessThan(8);
    expect(Math.abs(setbacks[0]!.outMm - outMm)).toBeLessThan(1.5);
    expect(warnings.filter(({ code }) => code.includes('suspect'))).toEqual([]);
    // on the line at 750 mm, a grid's step to either side
    const row = 750 / surface.stepMm;
    for (const along of [at - 25, at + 25]) {
      const out = surface.out[row * surface.nx + along / surface.stepMm]!;
      expect(Math.abs(out - made.truth(along, 750))).toBeLessThan(2);
    }
  });
  test('over a level edge, as on a plinth', () => {
    const made = makeSurvey(6, 'plaster', { truth: stepped(6, 1010, 9, true) });
    const { setbacks } = solveRoughly(made.survey);
    expect(setbacks.length).toBe(1);
    expect(setbacks[0]!.axis).toBe('level');
    expect(Math.abs(setbacks[0]!.atMm - 1010)).toBeLessThan(8);
  });
  test.each(['bulged', 'brick', 'twisted'] as const)('a %s wall has none', (kind) => {
    expect(solveRoughly(makeSurvey(7, kind).survey).setbacks).toEqual([]);
  });
});
