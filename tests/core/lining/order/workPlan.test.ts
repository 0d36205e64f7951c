import { describe, expect, test } from 'vitest';
import { planBatches } from '../../../../src/core/lining/mix/batches.ts';
import { listMixItems } from '../../../../src/core/lining/mix/mixItems.ts';
import { defaultSettings } from '../../../../src/core/lining/defaults.ts';
import { planLining } from '../../../../src/core/lining/planLining.ts';
import { measureJoints } from '../../../../src/core/lining/order/joints.ts';
import { planWork } from '../../../../src/core/lining/order/workPlan.ts';
import type { HackedSpot, WorkCode, WorkFigures } from '../../../../src/core/liningPlan.ts';
import type { LiningPlan } from '../../../../src/core/results.ts';
import type { Survey } from '../../../../src/core/survey.ts';
import { solver } from '../../../solver.ts';
import { checkWork } from '../checkWork.ts';
import { makeCase, windowWall } from '../walls.ts';

const { survey, surface } = makeCase(windowWall);
const made = planLining(survey, surface, solver);
const settings = defaultSettings();
/** The order of work of the window wall with some of its plan, survey or settings otherwise. */
function work(
  more: {
    plan?: Partial<LiningPlan>;
    survey?: Partial<Survey>;
    settings?: Partial<typeof settings>;
  } = {},
) {
  const plan = { ...made, ...more.plan };
  const own = { ...settings, ...more.settings };
  const about = { ...survey, ...more.survey };
  const laid = { strips: plan.packing.strips, reveals: plan.reveals };
  const { pours, batches } = planBatches(
    listMixItems(plan.boards, laid, plan.adhesive, about.lining, own),
    own,
  );
  const whole = { ...plan, batches };
  const steps = planWork({ survey: about, plan: whole, pours, settings: own });
  const lining = { ...about.lining, settings: own };
  expect(checkWork({ ...about, lining }, { ...whole, work: steps })).toEqual([]);
  return steps;
}
const codes = (steps: ReturnType<typeof work>) => steps.map(({ code }) => code);
const figures = <C extends WorkCode>(steps: ReturnType<typeof work>, code: C) =>
  steps.find((step) => step.code === code)!.figures as WorkFigures[C];

const spot: HackedSpot = {
  id: 'h1',
  along: 1000,
  up: 500,
  deepest: { along: 1010, up: 510 },
  area: { along: 900, up: 400, width: 200, height: 200 },
  areaM2: 0.04,
  depthMm: 6,
};
const strip = (id: string, along: number) => ({
  id,
  board: 'A',
  layers: 1,
  along,
  up: 200,
  width: 100,
  height: 2000,
  bedMm: 28,
  underMm: 8,
  overMm: 7.5,
  volumeL: 1.6,
});

describe('the order of work', () => {
  test('of a plain wall goes from looking at it to cleaning up', () => {
    expect(codes(work())).toEqual([
      'bring',
      'check_wall',
      'clear_wall',
      'prime',
      'set_laser',
      'mark_out',
      'trace_services',
      'set_screws',
      'check_screws',
      'cut_boards',
      'dry_fit',
      'mix_trial',
      'mix',
      'fix_board',
      'mix',
      'fix_board',
      'mix',
      'fix_board',
      'let_go',
      'take_packers',
      'wait_set',
      'seal_gaps',
      'fill_joints',
      'clean_up',
    ]);
  });
  test('of the plan itself is the same', () => {
    expect(made.work).toEqual(work());
  });
  test('with spots picked: they are hacked off first', () => {
    const steps = work({ plan: { hacked: [spot] } });
    expect(codes(steps).indexOf('hack_off')).toBeLessThan(codes(steps).indexOf('prime'));
    expect(figures(steps, 'hack_off')).toEqual({ spots: 1, areaM2: 0.04, deepestMm: 6 });
  });
  test('with packing: strips are cut, bonded and left to set before the dry fit', () => {
    const packing = {
      strips: [strip('P1', 50), strip('P2', 600)],
      cuts: [{ widthMm: 100, lengthMm: 2000, count: 2 }],
    };
    const [first, ...rest] = made.adhesive.perBoard;
    const perBoard = [{ ...first!, volumeL: first!.volumeL + 3.2 }, ...rest];
    const steps = work({ plan: { packing, adhesive: { ...made.adhesive, perBoard } } });
    const at = (code: WorkCode) => codes(steps).indexOf(code);
    expect(codes(steps).slice(at('cut_packing'), at('dry_fit') + 1)).toEqual([
      'cut_packing',
      'mix_trial',
      'bond_packing',
      'mix',
      'bond_packing',
      'wait_packing',
      'cut_boards',
      'dry_fit',
    ]);
    expect(figures(steps, 'cut_packing')).toEqual({ strips: 2, pieces: 2, lengthMm: 4000 });
  });
  test('of a wall beyond packing says so first, and what to dub out', () => {
    const verdict = { ...made.verdict, way: 'frame_or_plaster' as const };
    const warnings = [{ code: 'bed_over_packed' as const, subject: 'wall' }];
    const steps = work({ plan: { verdict, warnings } });
    expect(steps[0]!.code).toBe('other_way');
    expect(codes(steps)).toContain('dub_out');
  });
  test('of an external and of a party wall carries their cautions', () => {
    const cautions = (side: Survey['wall']['side']) =>
      work({ survey: { wall: { ...survey.wall, side } } }).find(({ code }) => code === 'check_wall')!
        .cautions;
    expect(cautions('external')).toContain('cold_wall');
    expect(cautions('party')).toContain('party_sound');
    expect(cautions('internal')).toEqual(['damp_wall', 'temperature', 'local_rules']);
  });
  test('of boards for two lifts them by two, and says so at those boards alone', () => {
    const boards = made.boards.map((board, k) => ({
      ...board,
      persons: k === 1 ? (2 as const) : (1 as const),
    }));
    const steps = work({ plan: { boards } });
    expect(figures(steps, 'dry_fit').heavy).toBe(1);
    expect(
      steps.filter(({ code, cautions }) => code === 'fix_board' && cautions.includes('lifting')),
    ).toHaveLength(1);
  });
  test('starts from the right where asked', () => {
    const lining = { ...survey.lining, start: 'right' as const };
    const ids = work({ survey: { lining } }).flatMap(({ code, of }) => (code === 'fix_board' ? of : []));
    expect(ids).toEqual(['C', 'B', 'A']);
  });
  test('has fixings through the boards only where asked, after the set', () => {
    expect(codes(work())).not.toContain('secondary_fix');
    const steps = work({ settings: { secondaryPerBoard: 2 } });
    expect(codes(steps).indexOf('secondary_fix')).toBeGreaterThan(codes(steps).indexOf('wait_set'));
    expect(figures(steps, 'secondary_fix')).toEqual({ fixings: 6, perBoard: 2, boards: 3 });
  });
  test('lines reveals after the boards, with their own mix', () => {
    const reveal = { id: 'o1l', opening: 'o1', side: 'left' as const, width: 150, length: 1200, massKg: 2 };
    const perBoard = [
      ...made.adhesive.perBoard,
      { ...made.adhesive.perBoard[0]!, board: 'o1l', volumeL: 0.9 },
    ];
    const steps = work({ plan: { reveals: [reveal], adhesive: { ...made.adhesive, perBoard } } });
    expect(codes(steps).slice(-9, -6)).toEqual(['fix_board', 'mix', 'fix_reveals']);
  });
});

test('joints are counted where boards meet, not across an opening', () => {
  const at = (along: number, up: number, width: number, height: number) => ({
    ...made.boards[0]!,
    along,
    up,
    width,
    height,
  });
  const whole = at(0, 0, 1200, 2400);
  expect(measureJoints([whole, at(1203, 0, 1200, 2400)])).toEqual({ joints: 1, lengthMm: 2400 });
  expect(measureJoints([whole, at(0, 2403, 1200, 300)])).toEqual({ joints: 1, lengthMm: 1200 });
  expect(measureJoints([whole, at(2100, 0, 1200, 2400)])).toEqual({ joints: 0, lengthMm: 0 });
  expect(measureJoints([whole, at(1200, 2400, 1200, 300)])).toEqual({ joints: 0, lengthMm: 0 });
});
