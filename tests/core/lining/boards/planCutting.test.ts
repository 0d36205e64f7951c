import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planBoards } from '../../../../src/core/lining/boards.ts';
import { planCutting } from '../../../../src/core/lining/boards/planCutting.ts';
import { settingsOf } from '../../../../src/core/lining/defaults.ts';
import type { StripCut } from '../../../../src/core/liningPlan.ts';
import type { LiningPlan } from '../../../../src/core/results.ts';
import { solver } from '../../../solver.ts';
import { checkBoards } from '../checkBoards.ts';
import { checkCutting, isGuillotine } from '../checkCutting.ts';
import { anyWall, makeCase, type WallOptions } from '../walls.ts';

/** The parts of a plan that boards and cutting make, and the survey it is for. */
function cutWall(options: WallOptions, packing: readonly StripCut[] = []) {
  const { survey } = makeCase(options);
  const settings = settingsOf(survey.lining);
  const layout = planBoards(survey.wall, survey.lining, settings, solver);
  const cut = planCutting({ ...layout, packing }, survey.lining, settings, solver);
  const plan = {
    boards: cut.boards,
    reveals: layout.reveals,
    cutting: cut.cutting,
    packing: { strips: [], cuts: packing },
    warnings: [...layout.warnings, ...cut.warnings],
  } as unknown as LiningPlan;
  return { survey, plan, faults: [...checkBoards(survey, plan), ...checkCutting(survey, plan)] };
}
const codesOf = ({ plan }: { plan: LiningPlan }) => plan.warnings.map(({ code }) => code);

describe('boards as cut', () => {
  test('hold on random walls, slopes, stocks, starts, reveals and settings', () => {
    const spots = (width: number, up: number) =>
      fc.option(
        fc.array(
          fc.record({
            along: fc.integer({ min: 0, max: width }),
            up: fc.integer({ min: up - 60, max: up + 60 }),
          }),
          { minLength: 1, maxLength: 3 },
        ),
        { nil: undefined },
      );
    const any = anyWall.chain((options) =>
      fc.record({
        options: fc.constant(options),
        floor: spots(options.width!, 0),
        ceiling: spots(options.width!, options.height!),
        reveal: fc.constantFrom(0, 120, 250),
        packing: fc.constantFrom([], [{ widthMm: 100, lengthMm: 600, count: 7 }]),
        start: fc.constantFrom('best', 'left', 'right', 'balanced'),
        stock: fc.constantFrom(
          [],
          [{ width: 600, length: 2600 }],
          [
            { width: 1200, length: 3000 },
            { width: 900, length: 2400 },
          ],
        ),
        floorGapMm: fc.constantFrom(0, 12, 25),
        ceilingGapMm: fc.constantFrom(0, 5),
        minStripMm: fc.constantFrom(200, 300, 400),
        boardKgPerM2: fc.constantFrom(0, 10.5),
      }),
    );
    fc.assert(
      fc.property(any, ({ options, floor, ceiling, reveal, packing, start, stock, ...settings }) => {
        const lining = { start, stock, settings };
        const { faults } = cutWall({ ...options, floor, ceiling, reveal, lining }, packing);
        expect(faults).toEqual([]);
      }),
      { numRuns: 15, seed: 12, endOnFailure: true },
    );
  });

  test('on a sloping floor follow it, and say so by their corners', () => {
    const { plan, faults } = cutWall({
      floor: [
        { along: 0, up: 0 },
        { along: 3600, up: 36 },
      ],
    });
    expect(faults).toEqual([]);
    expect(plan.boards[0]!.outline).toEqual([
      { along: 0, up: 12 },
      { along: 1200, up: 24 },
      { along: 1200, up: 2445 },
      { along: 0, up: 2445 },
    ]);
    expect(plan.boards[1]).toMatchObject({ up: 24, height: 2421 });
    // Mass of the trapezium: 1.2 m x (2.433 + 2.421) / 2 m x 8.6 kg/m2.
    expect(plan.boards[0]!.massKg).toBeCloseTo(1.2 * 2.427 * 8.6, 9);
  });

  test('where the floor falls too far for the stock the gap at the floor widens, board by board', () => {
    const slope = [
      { along: 0, up: 0 },
      { along: 3600, up: -60 },
    ];
    const made = cutWall({ board: { width: 1200, length: 2450, thickness: 12.5 }, floor: slope });
    expect(made.faults).toEqual([]);
    expect(codesOf(made)).toEqual(['floor_gap_wide']);
    expect(made.plan.boards.map(({ height }) => height)).toEqual([2450, 2450, 2450]);
  });

  test('take a longer size of the stock where the main one does not reach', () => {
    const made = cutWall({
      height: 2900,
      board: { width: 1200, length: 2400, thickness: 12.5 },
      lining: { stock: [{ width: 1200, length: 3000 }] },
    });
    expect(made.faults).toEqual([]);
    expect(codesOf(made)).toEqual([]);
    expect(made.plan.cutting.stock).toEqual([{ width: 1200, length: 3000, count: 3 }]);
  });

  test('take a narrow size for a strip rather than cut a wide one', () => {
    const made = cutWall({ width: 3000, lining: { stock: [{ width: 600, length: 2600 }] } });
    expect(made.faults).toEqual([]);
    expect(made.plan.cutting.stock).toEqual([
      { width: 1200, length: 2600, count: 2 },
      { width: 600, length: 2600, count: 1 },
    ]);
    expect(made.plan.boards.at(-1)!.edges).toEqual({ left: 'bound', right: 'bound' });
  });

  test('have bound edges at joints and cut ones in the corners', () => {
    const { plan } = cutWall({ width: 4850 });
    expect(plan.boards.map(({ edges }) => `${edges.left} ${edges.right}`)).toEqual([
      'cut bound',
      'bound bound',
      'bound bound',
      'bound bound',
      'bound cut',
    ]);
  });

  test('show where boxes come through, from their left and bottom edge, also cut by a joint', () => {
    const { plan } = cutWall({ boxes: [{ along: 1500, up: 300, width: 80, height: 60 }] });
    expect(plan.boards[1]!.holes).toEqual([
      { box: 'b1', fromLeft: 300, fromBottom: 288, width: 80, height: 60 },
    ]);
    expect(plan.boards[0]!.holes).toEqual([]);
  });

  test('a box in an opening makes no hole', () => {
    const opening = { along: 1500, up: 900, width: 700, height: 1200 };
    const { plan } = cutWall({
      openings: [opening],
      boxes: [{ along: 1600, up: 1000, width: 80, height: 80 }],
    });
    expect(plan.boards.flatMap(({ holes }) => holes)).toEqual([]);
  });

  test('are for two where they are heavy or long', () => {
    const persons = (options: WallOptions) => cutWall(options).plan.boards[0]!.persons;
    expect(persons({ width: 1200, height: 2400 })).toBe(2); // 2.383 m long
    const byMass = { settings: { liftAloneMm: 2700 } };
    expect(persons({ width: 1200, height: 2400, lining: byMass })).toBe(1); // 1.2 x 2.383 x 8.6 = 24.6 kg
    expect(persons({ width: 1200, height: 2500, lining: byMass })).toBe(2); // 25.6 kg
    expect(persons({ width: 1200, height: 1800 })).toBe(1);
  });

  test('two pieces that just fill a board: sheet_tight, for it may be 4 mm narrower', () => {
    const door = { along: 1800, up: 0, width: 1000, height: 2450 };
    expect(codesOf(cutWall({ width: 4600, openings: [door] }))).toEqual(['sheet_tight']);
    expect(codesOf(cutWall({ width: 4580, openings: [{ ...door, along: 1790 }] }))).toEqual([]);
  });

  test('a reveal deeper than any board: board_not_in_stock, and left out of the cutting', () => {
    const made = cutWall({
      openings: [{ along: 1500, up: 900, width: 700, height: 1200 }],
      reveal: 1300,
      board: { width: 600, length: 1250, thickness: 12.5 },
    });
    expect(made.faults).toEqual([]);
    expect(codesOf(made)).toContain('board_not_in_stock');
  });
});

describe('the checker of cuttings', () => {
  const { survey, plan } = cutWall({ width: 4850 }, [{ widthMm: 100, lengthMm: 600, count: 2 }]);
  const [first, ...others] = plan.cutting.sheets;
  const spoil = (change: Partial<LiningPlan['cutting']>) =>
    checkCutting(survey, { ...plan, cutting: { ...plan.cutting, ...change } }).join('\n');
  const spoilSheet = (change: Partial<typeof first>) =>
    spoil({ sheets: [{ ...first!, ...change }, ...others] });

  test('finds no fault with a sound cutting', () => expect(spoil({})).toBe(''));
  test('sees a piece missing, twice there, moved, or of a wrong size', () => {
    expect(spoil({ sheets: others })).toContain('is cut 0 times');
    expect(spoil({ sheets: [...plan.cutting.sheets, { ...first!, id: 'S9' }] })).toContain('is cut 2 times');
    expect(spoilSheet({ pieces: first!.pieces.map((piece) => ({ ...piece, x: piece.x + 700 })) })).toContain(
      'not on it',
    );
    expect(spoilSheet({ pieces: first!.pieces.map((piece) => ({ ...piece, length: 2000 })) })).toContain(
      'wrong size',
    );
  });
  test('sees offcuts, cuts, waste and counts that do not add up', () => {
    expect(spoilSheet({ offcuts: [] })).toContain('do not make up its area');
    expect(spoilSheet({ cuts: 9 })).toContain('not 9');
    expect(spoil({ wasteShare: 0.5 })).toContain('waste of 0.5');
    expect(spoil({ proven: false })).toContain('proven');
    expect(spoil({ stock: [] })).toContain('stock list');
  });
  test('sees parts that no straight cut parts', () => {
    // A pinwheel: four rectangles round a fifth.
    const pinwheel = [
      [0, 2, 0, 1],
      [2, 3, 0, 2],
      [1, 3, 2, 3],
      [0, 1, 1, 3],
      [1, 2, 1, 2],
    ] as const;
    expect(isGuillotine(pinwheel)).toBe(false);
    expect(isGuillotine([pinwheel[0], [0, 2, 1, 3], [2, 3, 0, 3]])).toBe(true);
  });
});
