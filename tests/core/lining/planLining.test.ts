import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planLining } from '../../../src/core/lining/planLining.ts';
import { Refused } from '../../../src/core/refusal.ts';
import { checkPlan } from './checkPlan.ts';
import { anyWall, makeCase, windowWall, type WallOptions } from './walls.ts';
import { solver } from '../../solver.ts';

const plan = (options: WallOptions) => {
  const { survey, surface } = makeCase(options);
  const made = planLining(survey, surface, solver);
  expect(checkPlan(survey, surface, made)).toEqual([]);
  return made;
};
const codes = (options: WallOptions) => plan(options).warnings.map(({ code }) => code);

describe('a lining plan', () => {
  test('holds on random walls, openings and boxes', () => {
    let tried = 0;
    fc.assert(
      fc.property(anyWall, (options) => {
        const { survey, surface } = makeCase({ ...options, lining: { settings: { hackSpotsMost: 2 } } });
        try {
          const made = planLining(survey, surface, solver);
          tried++;
          expect(checkPlan(survey, surface, made)).toEqual([]);
        } catch (error) {
          if (!(error instanceof Refused)) throw error;
          expect(error.refusal.code).toBe('nothing_to_line');
        }
      }),
      { numRuns: 70, seed: 5 },
    );
    expect(tried).toBeGreaterThan(56);
  });

  test('of a small board above a door, with a box straight below it, still hangs on four screws', () => {
    plan({
      width: 4285,
      height: 2608,
      openings: [{ along: 0, up: 0, width: 400, height: 2186 }],
      boxes: [{ along: 0, up: 0, width: 181, height: 60 }],
      board: { width: 600, length: 2600, thickness: 12.5 },
      out: (along, up) => -60 + 10 * Math.sin(along / 500) * Math.cos(up / 700),
    });
  });

  test('of a flat plumb wall has the least bed everywhere and nothing to warn of', () => {
    const made = plan({ out: () => -60, bed: { min: 10, max: 20, packedMax: 40 } });
    expect(made.bedPlane).toEqual({ p: -50, q: 0, r: 0 });
    expect(made.meanBedMm).toBe(10);
    expect(made.zones.map(({ share }) => share)).toEqual([0, 1, 0, 0]);
    expect(made.highPoints).toHaveLength(1);
    expect(made.boards.map(({ id, along, up, width, height }) => [id, along, up, width, height])).toEqual([
      ['A', 0, 12, 1200, 2433],
      ['B', 1200, 12, 1200, 2433],
      ['C', 2400, 12, 1200, 2433],
    ]);
    expect(made.screws).toHaveLength(3 * 3 * 5);
    // a quarter of 3.6 m x 2.433 m in contact and hardly more, 10 mm deep; x 1.05 kg/L x 1.1
    const { coverage, volumeL, powderKg } = made.adhesive;
    expect(coverage).toBeGreaterThan(0.25 - 1e-9);
    expect(coverage).toBeLessThan(0.26);
    expect(volumeL).toBeCloseTo(coverage * 3.6 * 2.433 * 10, 9);
    expect(powderKg).toBeCloseTo(1.155 * volumeL, 9);
    expect(made.adhesive).toMatchObject({ bags: 2, mixes: 3, potLifeMin: 30 });
    expect(made.warnings).toEqual([]);
    expect(made.verdict).toMatchObject({
      way: 'direct_bond',
      overMaxShare: 0,
      overPackedShare: 0,
      cautions: [],
      reasons: [{ code: 'within_limits', maxBedMm: 10 }],
    });
  });

  test('of a wall turned to the laser follows it exactly', () => {
    const made = plan({ out: (along) => -70 + 0.004 * along });
    expect(made.bedPlane.q).toBeCloseTo(0.004, 12);
    expect(made.maxBedMm).toBeCloseTo(5, 9);
  });

  test('of a leaning wall stays plumb: the bed grows with the lean', () => {
    const made = plan({ out: (_, up) => -60 - 0.005 * up, height: 2400 });
    expect(made.bedPlane.p).toBeCloseTo(-55, 9);
    expect(made.maxBedMm).toBeCloseTo(17, 9);
    expect(made.highPoint.up).toBe(0);
  });

  test('of the window wall cuts the window out of one board and keeps joints off its corners', () => {
    const made = plan(windowWall);
    expect(made.boards.map(({ along, width }) => [along, width])).toEqual([
      [0, 1200],
      [1200, 1200],
      [2400, 1200],
    ]);
    expect(made.boards[1]!.cutouts).toEqual([{ along: 1500, up: 900, width: 700, height: 1200 }]);
    expect(made.boards[0]!.cutouts).toEqual([{ along: 400, up: 300, width: 80, height: 80 }]);
    expect(made.highPoints).toHaveLength(2);
  });

  test('is the same whichever way the numbers come: two runs are equal', () => {
    const { survey, surface } = makeCase(windowWall);
    expect(planLining(survey, surface, solver)).toEqual(planLining(survey, surface, solver));
  });

  test('shifts with the laser: only p and the distances from it change', () => {
    const near = plan(windowWall);
    const far = plan({ ...windowWall, out: (along, up) => windowWall.out!(along, up) - 100 });
    expect(far.bedPlane.p).toBeCloseTo(near.bedPlane.p - 100, 9);
    expect(far.bedPlane.q).toBeCloseTo(near.bedPlane.q, 12);
    far.screws.forEach((screw, k) => {
      expect(screw.projection).toBeCloseTo(near.screws[k]!.projection, 8);
      expect(screw.fromLaser).toBeCloseTo(near.screws[k]!.fromLaser + 100, 8);
    });
    expect(far.adhesive.volumeL).toBeCloseTo(near.adhesive.volumeL, 8);
  });

  test('works when the grid sticks out beyond the wall and when it ends short of it', () => {
    plan({ width: 3333, height: 2401, stepMm: 75, out: (along) => -60 + along / 400 });
    const { survey, surface } = makeCase({ width: 3400, out: (along) => -60 + along / 400 });
    const short = { ...survey, wall: { ...survey.wall, width: 3430 } };
    expect(checkPlan(short, surface, planLining(short, surface, solver))).toEqual([]);
  });

  test('does not rest on the threshold of a door, nor on the floor of an opening up to the ceiling', () => {
    const sill = (along: number, up: number) => (along > 1000 && along < 2000 && up < 100 ? -30 : -60);
    for (const height of [2000, 2450]) {
      const made = plan({ width: 4000, openings: [{ along: 1000, up: 0, width: 1000, height }], out: sill });
      expect(made.bedPlane.p).toBeCloseTo(-55, 9);
      expect(made.bed[Math.floor(1500 / 50)]).toBeNaN();
    }
  });

  test('works on a single known node', () => {
    const { survey, surface } = makeCase();
    const out = surface.out.map((value, k) => (k === 700 ? value : NaN));
    const made = planLining(survey, { ...surface, out }, solver);
    expect(made.bedPlane).toEqual({ p: -55, q: 0, r: 0 });
    expect(checkPlan(survey, { ...surface, out }, made)).toEqual([]);
  });
});

describe('a lining plan warns', () => {
  const deep = (mostMm: number) => (along: number) => -60 - (mostMm * along * (3600 - along)) / 1800 ** 2;
  test('bed_over_max when packing strips are needed', () => {
    expect(codes({ out: deep(25) })).toContain('bed_over_max');
    expect(codes({ out: deep(25) })).not.toContain('bed_over_packed');
    expect(plan({ out: deep(25) }).verdict.way).toBe('frame_or_plaster');
    expect(plan({ out: deep(17) }).verdict.way).toBe('pack_first');
    expect(codes({ out: deep(14) })).toEqual([]);
  });
  test('bed_over_packed when even packing does not do', () => {
    expect(codes({ out: deep(60) })).toEqual(expect.arrayContaining(['bed_over_max', 'bed_over_packed']));
  });
  test('bed_may_be_thin when sigma at the high point is over the allowance, not under', () => {
    expect(codes({ ...windowWall, sigmaMm: 1.2 })).toContain('bed_may_be_thin');
    expect(codes({ ...windowWall, sigmaMm: 0.9 })).not.toContain('bed_may_be_thin');
    expect(plan({ ...windowWall, sigmaMm: 1.2 }).verdict.cautions).toContain('high_point_unsure');
  });
  test('nothing of a node with a huge sigma on a deep bed', () => {
    const { survey, surface } = makeCase({ out: deep(14) });
    const sigma = surface.sigma.map((value, k) => (k % surface.nx === 36 ? 9 : value));
    expect(planLining(survey, { ...surface, sigma }, solver).warnings).toEqual([]);
  });
  test('board_too_short when the stock does not reach', () => {
    const made = plan({ board: { width: 1200, length: 2300, thickness: 12.5 } });
    expect(made.warnings).toEqual([{ code: 'board_too_short', subject: 'wall' }]);
    expect(made.verdict.cautions).toEqual(['horizontal_joint']);
  });
  test('of an external wall and a party wall in the verdict', () => {
    expect(plan({ side: 'external' }).verdict.cautions).toEqual(['external_wall_uninsulated']);
    expect(plan({ side: 'party' }).verdict.cautions).toEqual(['party_wall_sound']);
  });
});

describe('nothing_to_line', () => {
  const refusal = (options: WallOptions, change: (out: Float64Array) => Float64Array = (out) => out) => {
    const { survey, surface } = makeCase(options);
    try {
      planLining(survey, { ...surface, out: change(surface.out) }, solver);
    } catch (error) {
      return error instanceof Refused ? error.refusal : error;
    }
    return null;
  };
  test('no node is known', () => {
    expect(refusal({}, (out) => out.map(() => NaN))).toEqual({ code: 'nothing_to_line' });
  });
  test('an opening takes the whole wall but its edge', () => {
    const opening = { along: 0, up: 0, width: 3600, height: 2450 };
    expect(refusal({ openings: [opening] })).toEqual({ code: 'nothing_to_line' });
  });
  test('a wall lower than its gaps', () => {
    expect(refusal({ height: 15, stepMm: 5 })).toEqual({ code: 'nothing_to_line' });
  });
});
