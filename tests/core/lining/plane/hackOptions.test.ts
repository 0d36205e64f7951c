import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fitBedPlane } from '../../../../src/core/lining/bedPlane.ts';
import { defaultSettings, type LiningSettings } from '../../../../src/core/lining/defaults.ts';
import { keepLinedNodes } from '../../../../src/core/lining/linedNodes.ts';
import { chooseSpots } from '../../../../src/core/lining/plane/chooseSpots.ts';
import { planHackOptions } from '../../../../src/core/lining/plane/hackOptions.ts';
import { allowRemoval, findHighSpots } from '../../../../src/core/lining/plane/highSpots.ts';
import { standPlane } from '../../../../src/core/lining/plane/planPlane.ts';
import { askBed, gatherNodes } from '../../../../src/core/lining/plane/wallNodes.ts';
import { gatherWishes } from '../../../../src/core/lining/plane/wishes.ts';
import type { PlaneWishes, WallSpot } from '../../../../src/core/survey.ts';
import { solver } from '../../../solver.ts';
import { makeCase, type WallOptions } from '../walls.ts';

const settings = defaultSettings();
type Bump = readonly [along: number, up: number, heightMm: number];
const bumpyWall = (bumps: readonly Bump[], waveMm = 2): WallOptions => ({
  width: 3000,
  height: 2400,
  stepMm: 100,
  out: (x, y) =>
    bumps.reduce(
      (sum, [along, up, high]) => sum + high * Math.exp(-((x - along) ** 2 + (y - up) ** 2) / (2 * 120 ** 2)),
      -60 + waveMm * Math.sin(x / 700) * Math.cos(y / 900),
    ),
});
const stage = (options: WallOptions, plane: PlaneWishes = {}, own: Partial<LiningSettings> = {}) => {
  const { survey, surface: whole } = makeCase(options);
  const surface = keepLinedNodes(whole, survey.wall);
  const lining = { ...survey.lining, plane };
  const all = { ...settings, ...own };
  const nodes = gatherNodes(surface, askBed(surface, lining.bed.min, plane.sigmas ?? 0));
  const wishes = gatherWishes(lining, all);
  const giveOptions = () => planHackOptions(surface, survey.wall, lining, all, solver, () => undefined);
  const stand = (hackOff: readonly WallSpot[]) =>
    standPlane(surface, survey.wall, { ...lining, hackOff }, all, solver);
  return { nodes, wishes, giveOptions, stand, all };
};

/** All choices of `size` numbers under `count`. */
function chooseAll(count: number, size: number): number[][] {
  if (size === 0) return [[]];
  return chooseAll(count, size - 1).flatMap((some) =>
    Array.from({ length: count }, (_, k) => k)
      .filter((k) => k > (some.at(-1) ?? -1))
      .map((k) => [...some, k]),
  );
}

const anyBumps = fc.array(
  fc.tuple(
    fc.integer({ min: 0, max: 3000 }),
    fc.integer({ min: 0, max: 2400 }),
    fc.integer({ min: 2, max: 25 }),
  ),
  { minLength: 1, maxLength: 6 },
);

test('the best choice of spots is the best of all choices, tried one by one', () => {
  fc.assert(
    fc.property(anyBumps, fc.constantFrom(0, 3), (bumps, lean) => {
      const { nodes, wishes, all } = stage(bumpyWall(bumps), { lean });
      const plane = fitBedPlane(nodes, wishes, solver).plane;
      const middles = findHighSpots(nodes, plane, all.hackRadiusMm, 5);
      const worthOf = (spots: readonly number[]) => {
        const removal = allowRemoval(
          nodes,
          spots.map((k) => middles[k]!),
          all,
        );
        const fit = fitBedPlane(nodes, wishes, solver, removal);
        return fit.meanBedMm;
      };
      const removal = allowRemoval(nodes, middles, all);
      const limit = { countMost: 3, worthMm: 1e-4 };
      const choices = chooseSpots(nodes, wishes, middles, removal, solver, limit, () => undefined);
      choices.forEach(({ chosen, proven }, k) => {
        expect(proven).toBe(true);
        expect(chosen.length).toBeLessThanOrEqual(k + 1);
        const best = Math.min(...chooseAll(middles.length, k + 1).map(worthOf));
        expect(Math.abs(worthOf(chosen) - best)).toBeLessThan(3e-6);
      });
      // It ends only where all spots together would gain next to nothing.
      const last = choices.at(-1)?.chosen ?? [];
      if (choices.length < 3) expect(worthOf(last) - worthOf([...middles.keys()])).toBeLessThan(2e-4);
    }),
    { numRuns: 4, seed: 8 },
  );
});

describe('options of hacking off', () => {
  test('never take more adhesive for more spots, and picking one gives the plane it promises', () => {
    fc.assert(
      fc.property(anyBumps, (bumps) => {
        const { giveOptions, stand } = stage(bumpyWall(bumps));
        const options = giveOptions();
        expect(options[0]).toMatchObject({ spots: [], roomMm: 0, proven: true });
        options.slice(1).forEach((option, k) => {
          expect(option.spots.length).toBeGreaterThan(options[k]!.spots.length);
          expect(option.adhesiveL).toBeLessThan(options[k]!.adhesiveL);
          expect(option.powderKg).toBeLessThan(options[k]!.powderKg);
          expect(option.setKg).toBeLessThan(options[k]!.setKg);
          const picked = option.spots.map(({ along, up }) => ({ along, up }));
          const plan = stand(picked);
          expect(plan.meanBedMm).toBeCloseTo(option.meanBedMm, 8);
          expect(plan.maxBedMm).toBeCloseTo(option.maxBedMm, 8);
          expect(plan.hacked).toEqual(option.spots);
        });
      }),
      { numRuns: 4, seed: 21 },
    );
  });

  test('of one bump on a flat wall: all of it, its area and depth, and no more spots', () => {
    const { giveOptions, stand } = stage({
      ...bumpyWall([]),
      out: (x, y) => (x === 1500 && y === 1200 ? -50 : -60),
    });
    const options = giveOptions();
    expect(options).toHaveLength(2);
    const [none, one] = options;
    // Mean over 31 x 25 nodes: 15 mm but for the bump's 5; hacked off, 5 mm everywhere.
    expect(none!.meanBedMm).toBeCloseTo(15 - 10 / 775, 9);
    expect(one!.meanBedMm).toBeCloseTo(5, 9);
    expect(one!.roomMm).toBeCloseTo(10, 9);
    expect(one!.spots).toEqual([
      {
        id: 'h1',
        along: 1500,
        up: 1200,
        deepest: { along: 1500, up: 1200 },
        area: { along: 1450, up: 1150, width: 100, height: 100 },
        areaM2: expect.closeTo(0.01, 9) as number,
        depthMm: expect.closeTo(10, 9) as number,
      },
    ]);
    // 0.25 x 5 mm x 7.2 m2 = 9 L; x 1.05 kg/L x 1.1 of powder; x 1.05 x 1.19 as it has set.
    expect(one!.adhesiveL).toBeCloseTo(9, 9);
    expect(one!.powderKg).toBeCloseTo(10.395, 9);
    expect(one!.setKg).toBeCloseTo(9 * 1.05 * 1.19, 9);
    const plan = stand([{ along: 1500, up: 1200 }]);
    expect(plan.bed.every((bed) => Math.abs(bed - 5) < 1e-9)).toBe(true);
    expect(plan.plane).toEqual({ p: -55, q: 0, r: 0 });
  });

  test('of two equal bumps leave out the single spot that would gain nothing', () => {
    const { giveOptions } = stage(
      {
        ...bumpyWall([]),
        out: (x, y) => ((x === 1400 || x === 1600) && y % 800 === 0 && y > 0 && y < 2400 ? -50 : -60),
      },
      { turn: 'laser' },
      { hackRadiusMm: 150 },
    );
    expect(giveOptions().map(({ spots }) => spots.length)).toEqual([0, 4]);
  });

  test('go no deeper than the setting: a pillar of 50 mm comes off by 30', () => {
    const { stand, giveOptions } = stage({
      ...bumpyWall([]),
      out: (x, y) => (x === 1500 && y === 1200 ? -10 : -60),
    });
    const plan = stand([{ along: 1500, up: 1200 }]);
    expect(plan.plane.p).toBeCloseTo(-35, 9);
    expect(plan.hacked[0]!.depthMm).toBeCloseTo(30, 9);
    // What is cut carries nothing: the high points are among the rest of the wall.
    expect(plan.highPoints.every(({ bed }) => Math.abs(bed - 25) < 1e-9)).toBe(true);
    expect(giveOptions().at(-1)!.spots).toHaveLength(1);
  });

  test('off the wall, or where nothing stands in the way, take nothing off', () => {
    const { stand } = stage(bumpyWall([[1000, 1000, 12]]));
    const free = stand([]);
    const plan = stand([
      { along: -900, up: 0 },
      { along: 2800, up: 2000 },
    ]);
    expect(plan.hacked).toEqual([]);
    expect(plan.meanBedMm).toBeCloseTo(free.meanBedMm, 9);
  });

  test('a spot picked where a door lining would stand too near lets it be met', () => {
    const face = {
      id: 'door',
      kind: 'door lining',
      along: 100,
      up: 1000,
      distance: 41,
      rule: 'meet',
    } as const;
    const { stand } = stage(bumpyWall([[1500, 1200, 14]], 0.5), { turn: 'laser', faces: [face] });
    expect(stand([]).warnings.length).toBeGreaterThan(0);
    expect(stand([{ along: 1500, up: 1200 }]).warnings).toEqual([]);
  });
});

test('high spots lie further apart than their reach, the one that stands nearest first', () => {
  const { nodes, wishes } = stage(
    bumpyWall([
      [500, 500, 9],
      [2000, 1800, 15],
      [1200, 900, 6],
    ]),
  );
  const { plane } = fitBedPlane(nodes, wishes, solver);
  const middles = findHighSpots(nodes, plane, 250, 24);
  expect(middles).toHaveLength(24);
  middles.forEach((a, i) =>
    middles
      .slice(i + 1)
      .forEach((b) => expect(Math.hypot(a.along - b.along, a.up - b.up)).toBeGreaterThan(250)),
  );
});
