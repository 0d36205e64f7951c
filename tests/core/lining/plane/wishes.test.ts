import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { defaultSettings } from '../../../../src/core/lining/defaults.ts';
import { keepLinedNodes } from '../../../../src/core/lining/linedNodes.ts';
import { standPlane } from '../../../../src/core/lining/plane/planPlane.ts';
import type { FaceWish, PlaneWishes } from '../../../../src/core/survey.ts';
import { solver } from '../../../solver.ts';
import { missWishes } from '../checkBed.ts';
import { makeCase, type WallOptions } from '../walls.ts';

const settings = defaultSettings();
const bumpy: WallOptions = {
  width: 3000,
  height: 2400,
  stepMm: 100,
  out: (along, up) => -60 + 6 * Math.sin(along / 500) * Math.cos(up / 700) + 0.003 * along - 0.002 * up,
};
const planWith = (plane: PlaneWishes, options: WallOptions = bumpy) => {
  const made = makeCase(options);
  const survey = { ...made.survey, lining: { ...made.survey.lining, plane } };
  const { wall, lining } = survey;
  const plan = standPlane(keepLinedNodes(made.surface, wall), wall, lining, settings, solver);
  return { survey, plan, wishes: new Map(plan.report.wishes.map((each) => [each.wish, each])) };
};
const face = (id: string, along: number, distance: number, rest: Partial<FaceWish> = {}): FaceWish => ({
  id,
  kind: 'door lining',
  along,
  up: 1000,
  distance,
  rule: 'meet',
  ...rest,
});
/** The same wishes with one of them given way by so much. */
const giveWay = (plane: PlaneWishes, wish: string, by: number): PlaneWishes => ({
  ...plane,
  ...(wish === 'lean' ? { lean: (plane.lean ?? 0) + by } : {}),
  faces: (plane.faces ?? []).map((each) => {
    if (each.id !== wish) return each;
    const tolerance = (each.tolerance ?? settings.faceToleranceMm) + by;
    return {
      ...each,
      tolerance,
      distance: each.distance + (each.rule === 'behind' ? -by : each.rule === 'before' ? by : 0),
    };
  }),
});

describe('a face', () => {
  const easy = -planWith({}).plan.plane.p - 12.5;
  test('behind the plane of least bed is met within its tolerance, and the bed is no more than that asks', () => {
    const { plan, survey } = planWith({ turn: 'laser', faces: [face('f', 500, easy - 12)] });
    const loose = planWith({ turn: 'laser' }).plan;
    expect(plan.report.wishes.every(({ kept }) => kept)).toBe(true);
    // The face stands 12 mm further out than p; the wall holds the plane at its own place or the face does, 1 mm short of flush.
    const distance = -(plan.plane.p + survey.lining.board.thickness);
    expect(distance).toBeCloseTo(Math.min(easy - 12 + 1, -loose.plane.p - 12.5), 7);
  });
  test('counts the board: the plane stands a board behind a face that is met exactly', () => {
    const { plan } = planWith({ turn: 'laser', faces: [face('f', 500, 20, { tolerance: 0 })] });
    expect(plan.plane.p).toBeCloseTo(-32.5, 9);
    expect(plan.warnings).toEqual([]);
  });
  test('holds the plane away from the wall: the high point is the node of least bed', () => {
    const { plan } = planWith({ turn: 'laser', faces: [face('f', 500, 20, { tolerance: 0 })] });
    const least = plan.bed.reduce((most, bed) => Math.min(most, bed), Infinity);
    expect(least).toBeGreaterThan(6);
    expect(plan.highPoints).toHaveLength(1);
    expect(plan.highPoints[0]!.bed).toBe(least);
  });
  test('as a limit only binds on its own side', () => {
    const free = planWith({ turn: 'laser' }).plan;
    const at = -free.plane.p - 12.5;
    const held = (rule: 'behind' | 'before', distance: number) =>
      planWith({ turn: 'laser', faces: [face('f', 500, distance, { rule })] });
    expect(held('behind', at - 3).plan.plane).toEqual(free.plane);
    expect(held('before', at + 3).plan.plane).toEqual(free.plane);
    expect(held('before', at - 3).plan.plane.p).toBeCloseTo(free.plane.p + 3, 8);
    expect(held('behind', at + 3).wishes.get('f')).toMatchObject({ kept: false });
    expect(held('behind', at + 3).wishes.get('f')!.aloneBy).toBeCloseTo(3, 7);
  });
});

describe('wishes that clash', () => {
  test('two faces that contradict each other: each is named, either alone would do, the least bed would not', () => {
    const faces = [face('a', 1500, 20), face('b', 1500, 26)];
    const { plan, wishes } = planWith({ faces });
    expect(plan.warnings.map(({ subject }) => subject).sort()).toEqual(
      ['a', 'b'].filter((id) => !wishes.get(id)!.kept),
    );
    // 6 mm apart with 1 mm of tolerance each: 4 mm in all.
    expect(wishes.get('a')!.missedBy + wishes.get('b')!.missedBy).toBeCloseTo(4, 7);
    expect(wishes.get('a')!.aloneBy).toBeCloseTo(4, 7);
    expect(wishes.get('b')!.aloneBy).toBeCloseTo(4, 7);
    expect(wishes.get('lean')).toMatchObject({ kept: true, missedBy: 0, aloneBy: null });
    expect(wishes.get('least_bed')).toMatchObject({ kept: true, missedBy: 0, aloneBy: null });
    // The nearer to the wall of the two is cheaper in adhesive.
    expect(wishes.get('b')!.kept).toBe(true);
  });
  test('a door lining nearer to the wall than the high point allows gives way, or as much of the least bed', () => {
    const flat: WallOptions = { ...bumpy, out: (along) => (along === 1500 ? -40 : -60) };
    const { plan, wishes } = planWith({ turn: 'laser', faces: [face('door', 1500, 60)] }, flat);
    // The boards' face stands at 40 - 5 - 12.5 = 22.5 mm from the laser, 36.5 mm before the face with its tolerance.
    expect(plan.plane).toEqual({ p: -35, q: 0, r: 0 });
    expect(plan.warnings).toEqual([{ code: 'wish_not_kept', subject: 'door' }]);
    expect(wishes.get('door')!.missedBy).toBeCloseTo(36.5, 8);
    expect(wishes.get('door')!.aloneBy).toBeCloseTo(36.5, 8);
    expect(wishes.get('least_bed')!.aloneBy).toBeCloseTo(36.5, 8);
    expect(wishes.get('turn')!.aloneBy).toBe(null);
    expect(wishes.get('lean')!.aloneBy).toBe(null);
  });
  test('square to a wall and two faces to meet: the turn or a face gives way', () => {
    const { wishes } = planWith({
      turn: 'square',
      squareBy: 4,
      faces: [face('left', 0, 15, { tolerance: 0 }), face('right', 3000, 15, { tolerance: 0 })],
    });
    expect(wishes.get('turn')!.aloneBy).toBeCloseTo(4, 6);
    expect(wishes.get('left')!.aloneBy).toBeCloseTo(12, 6);
    expect(wishes.get('right')!.aloneBy).toBeCloseTo(12, 6);
    // 4 mm per m is less than 12 mm.
    expect(wishes.get('turn')).toMatchObject({ kept: false });
    expect(wishes.get('left')).toMatchObject({ kept: true });
  });
  test('two faces one above the other: plumb is not given up, but it is said what leaning would do', () => {
    const faces = [
      face('low', 1500, 20, { up: 200, tolerance: 0 }),
      face('high', 1500, 14, { up: 2200, tolerance: 0 }),
    ];
    const { plan, wishes } = planWith({ faces });
    expect(plan.plane.r).toBe(0);
    expect(wishes.get('lean')!.kept).toBe(true);
    // 6 mm over 2 m
    expect(wishes.get('lean')!.aloneBy).toBeCloseTo(3, 6);
    expect(wishes.get('low')!.missedBy + wishes.get('high')!.missedBy).toBeCloseTo(6, 7);
    expect(planWith({ faces, lean: 3 }).plan.warnings).toEqual([]);
  });
  test('never cost the least bed', () => {
    const { plan } = planWith({ faces: [face('door', 1500, 90)] });
    expect(plan.bed.reduce((most, bed) => Math.min(most, bed), Infinity)).toBeCloseTo(5, 9);
  });
});

const anyWishes = fc.record({
  turn: fc.constantFrom('free' as const, 'laser' as const, 'square' as const),
  squareBy: fc.integer({ min: -4, max: 4 }),
  lean: fc.constantFrom(0, 0, 1, 3),
  sigmas: fc.constantFrom(0, 0, 1, 2),
  faces: fc.array(
    fc.record({
      along: fc.integer({ min: 0, max: 3000 }),
      up: fc.integer({ min: 0, max: 2400 }),
      distance: fc.integer({ min: 15, max: 60 }),
      rule: fc.constantFrom('meet' as const, 'behind' as const, 'before' as const),
    }),
    { maxLength: 3 },
  ),
});
const named = (
  wishes: { faces: readonly Omit<FaceWish, 'id' | 'kind'>[] } & Omit<PlaneWishes, 'faces'>,
): PlaneWishes => ({
  ...wishes,
  faces: wishes.faces.map((each, k) => ({ ...each, id: `f${k + 1}`, kind: 'face' })),
});

test('every wish is kept or named; giving way alone by what is said does, by nine tenths of it does not', () => {
  let clashes = 0;
  fc.assert(
    fc.property(anyWishes, (wished) => {
      const plane = named(wished);
      const { plan, survey, wishes } = planWith(plane);
      const misses = missWishes(survey, { bedPlane: plan.plane });
      for (const [wish, by] of misses) {
        expect(wishes.get(wish)!.missedBy).toBeCloseTo(by, 5);
        expect(wishes.get(wish)!.kept).toBe(by <= 1e-6);
      }
      const isClash = plan.warnings.length > 0;
      clashes += isClash ? 1 : 0;
      if (isClash)
        expect(plan.report.wishes.some(({ aloneBy }) => aloneBy !== null) || plan.warnings.length > 1).toBe(
          true,
        );
      for (const { wish, aloneBy } of plan.report.wishes) {
        if (aloneBy === null || wish === 'turn' || wish === 'least_bed') continue;
        expect(planWith(giveWay(plane, wish, aloneBy + 1e-6)).plan.warnings).toEqual([]);
        if (aloneBy > 0.01)
          expect(planWith(giveWay(plane, wish, 0.9 * aloneBy)).plan.warnings.length).toBeGreaterThan(0);
      }
    }),
    { numRuns: 40, seed: 12 },
  );
  expect(clashes).toBeGreaterThan(8);
});

test('a turn gives way by what is said: with it the square wish does', () => {
  const plane: PlaneWishes = {
    turn: 'laser',
    faces: [face('l', 0, 24, { tolerance: 0 }), face('r', 3000, 15, { tolerance: 0 })],
  };
  const { wishes } = planWith(plane);
  const by = wishes.get('turn')!.aloneBy!;
  expect(by).toBeCloseTo(3, 6);
  expect(planWith({ ...plane, turn: 'square', squareBy: by }).plan.warnings).toEqual([]);
  expect(planWith({ ...plane, turn: 'square', squareBy: 0.9 * by }).plan.warnings.length).toBeGreaterThan(0);
});

test('the least bed gives way by what is said', () => {
  const plane: PlaneWishes = { turn: 'laser', faces: [face('f', 1500, 40)] };
  const { wishes } = planWith(plane);
  const by = wishes.get('least_bed')!.aloneBy!;
  expect(by).toBeGreaterThan(0.1);
  const bed = (min: number): WallOptions => ({ ...bumpy, bed: { min, max: 20, packedMax: 40 } });
  expect(planWith(plane, bed(5 - by - 1e-6)).plan.warnings).toEqual([]);
  expect(planWith(plane, bed(5 - 0.9 * by)).plan.warnings.length).toBeGreaterThan(0);
});

test('a freer plane never raises the mean bed, nor does a lower minimum or fewer sigmas', () => {
  fc.assert(
    fc.property(anyWishes, fc.integer({ min: 3, max: 9 }), ({ sigmas }, min) => {
      const options: WallOptions = { ...bumpy, bed: { min, max: 20, packedMax: 40 } };
      const mean = (plane: PlaneWishes, of = options) => planWith({ sigmas, ...plane }, of).plan.meanBedMm;
      const [laser, turned, leaning, leaned] = [{ turn: 'laser' }, {}, { lean: 2 }, { lean: 50 }] as const;
      const means = [laser, turned, leaning, leaned].map((plane) => mean(plane));
      means.slice(1).forEach((each, k) => expect(each).toBeLessThanOrEqual(means[k]! + 1e-9));
      const more = { ...options, bed: { ...options.bed!, min: min + 2 } };
      expect(mean({}, more)).toBeCloseTo(means[1]! + 2, 7);
      expect(mean({ sigmas: sigmas + 1 })).toBeGreaterThanOrEqual(means[1]! - 1e-9);
    }),
    { numRuns: 6, seed: 3 },
  );
});

test('clears two sigmas where they are asked, and rests where bed and sigmas meet', () => {
  const made = makeCase(bumpy);
  const { wall, lining } = made.survey;
  const sigma = made.surface.sigma.map((_, k) => 0.3 + 0.002 * (k % made.surface.nx));
  const plan = standPlane(
    { ...made.surface, sigma },
    wall,
    { ...lining, plane: { sigmas: 2 } },
    settings,
    solver,
  );
  const spare = plan.bed.map((bed, k) => bed - 5 - 2 * sigma[k]!);
  expect(spare.reduce((least, each) => Math.min(least, each), Infinity)).toBeCloseTo(0, 9);
  for (const point of plan.highPoints) expect(point.bed).toBeCloseTo(5 + 2 * point.sigma, 9);
  expect(plan.report.sigmas).toBe(2);
});
