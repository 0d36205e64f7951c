import fc from 'fast-check';
import { expect, test } from 'vitest';
import { planLining } from '../../../../src/core/lining/planLining.ts';
import type { Lining } from '../../../../src/core/survey.ts';
import { solver } from '../../../solver.ts';
import { checkPlan } from '../checkPlan.ts';
import { makeCase, windowWall } from '../walls.ts';

const anyLining = fc.record({
  turn: fc.constantFrom('free' as const, 'laser' as const, 'square' as const),
  lean: fc.constantFrom(0, 2),
  sigmas: fc.constantFrom(0, 1, 2),
  distance: fc.constantFrom(null, 25, 40, 55),
  picks: fc.array(
    fc.record({ along: fc.integer({ min: 0, max: 3600 }), up: fc.integer({ min: 0, max: 2450 }) }),
    { maxLength: 2 },
  ),
});

test('whole plans with wishes and picked spots hold to the checker', () => {
  fc.assert(
    fc.property(anyLining, ({ turn, lean, sigmas, distance, picks }) => {
      const { survey, surface } = makeCase({ ...windowWall, stepMm: 100 });
      const door = { id: 'door', kind: 'door lining', along: 3500, up: 1000, rule: 'meet' as const };
      const lining: Lining = {
        ...survey.lining,
        plane: { turn, squareBy: 1, lean, sigmas, faces: distance === null ? [] : [{ ...door, distance }] },
        hackOff: [...picks, { along: 900, up: 0 }],
        settings: { hackSpotsMost: 2 },
      };
      const asked = { ...survey, lining };
      const plan = planLining(asked, surface, solver);
      expect(checkPlan(asked, surface, plan)).toEqual([]);
    }),
    { numRuns: 12, seed: 31, endOnFailure: true },
  );
});
