import fc from 'fast-check';
import { expect, test } from 'vitest';
import { settingsOf, tradeDefaults } from '../../../../src/core/lining/defaults.ts';
import { mixDefaults } from '../../../../src/core/lining/mix/mixDefaults.ts';
import { planMixing } from '../../../../src/core/lining/mix/mixing.ts';
import { fillNodes } from '../../../../src/core/lining/nodeGrid.ts';
import { planLining } from '../../../../src/core/lining/planLining.ts';
import { workDefaults } from '../../../../src/core/lining/order/workDefaults.ts';
import { planWork } from '../../../../src/core/lining/order/workPlan.ts';
import type { RevealBoard } from '../../../../src/core/liningPlan.ts';
import { solver } from '../../../solver.ts';
import { checkAdhesive, checkBatches } from '../checkMixing.ts';
import { checkWork } from '../checkWork.ts';
import { makeCase, windowWall, type WallOptions } from '../walls.ts';

const walls: readonly WallOptions[] = [
  { ...windowWall, stepMm: 100 },
  // so uneven that it is packed
  { width: 2500, stepMm: 100, out: (along, up) => -60 + 14 * Math.sin(along / 400) * Math.cos(up / 500) },
  // a door and small pieces
  {
    width: 5200,
    stepMm: 100,
    openings: [
      { along: 1300, up: 0, width: 900, height: 2050 },
      { along: 3200, up: 800, width: 1500, height: 1300 },
    ],
    boxes: [{ along: 2500, up: 300, width: 80, height: 80 }],
  },
  // 9.5 mm boards, narrow
  { width: 2000, stepMm: 100, board: { width: 900, length: 2500, thickness: 9.5 } },
];
const plans = walls.map((options) => {
  const { survey, surface } = makeCase(options);
  const plan = planLining(survey, surface, solver);
  const { stepMm, nx, ny } = surface;
  return { survey, plan, bed: fillNodes({ stepMm, nx, ny, values: plan.bed }) };
});

const anySetting = (name: keyof typeof tradeDefaults) => {
  const { unit, limits } = tradeDefaults[name];
  const [min, max] = limits;
  return unit === 'count' ? fc.integer({ min, max }) : fc.double({ min, max, noNaN: true });
};
const names = [...Object.keys(mixDefaults), ...Object.keys(workDefaults)] as (keyof typeof tradeDefaults)[];
const anySettings = fc.record(Object.fromEntries(names.map((name) => [name, anySetting(name)])), {
  requiredKeys: [],
});
const reveals: readonly RevealBoard[] = ['left', 'right', 'head'].map((side, k) => ({
  id: `o1${side[0]}`,
  opening: 'o1',
  side: side as RevealBoard['side'],
  width: 180,
  length: 900 + 300 * k,
  massKg: 3,
}));

test('adhesive, batches and work hold for any settings of mixing and work', () => {
  expect(plans.some(({ plan }) => plan.packing.strips.length > 0)).toBe(true);
  let named = 0;
  fc.assert(
    fc.property(
      fc.nat({ max: plans.length - 1 }),
      anySettings,
      fc.constantFrom('best', 'left', 'right', 'balanced'),
      fc.constantFrom('internal', 'external', 'party'),
      fc.subarray([...reveals]),
      (which, own, start, side, lined) => {
        const { survey, plan, bed } = plans[which]!;
        const lining = { ...survey.lining, settings: own as Record<string, number>, start };
        const about = { ...survey, lining, wall: { ...survey.wall, side } };
        const settings = settingsOf(lining);
        const laid = { dabs: plan.dabs, strips: plan.packing.strips, reveals: lined };
        const mixing = planMixing(plan.boards, bed, laid, lining, settings);
        const { adhesive, batches, pours, warnings } = mixing;
        const mixed = {
          ...plan,
          reveals: lined,
          adhesive,
          batches,
          warnings: [...plan.warnings, ...warnings],
        };
        const work = planWork({ survey: about, plan: mixed, pours, settings });
        const made = { ...mixed, work };
        named += warnings.length;
        expect([
          ...checkAdhesive(about, made),
          ...checkBatches(about, made),
          ...checkWork(about, made),
        ]).toEqual([]);
        expect(planWork({ survey: about, plan: mixed, pours, settings })).toEqual(work);
      },
    ),
    { numRuns: 200, seed: 21 },
  );
  expect(named).toBeGreaterThan(20);
});
