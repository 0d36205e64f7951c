import { describe, expect, test } from 'vitest';
import { planBoards } from '../../../src/core/lining/boards.ts';
import { defaultSettings } from '../../../src/core/lining/defaults.ts';
import { solver } from '../../solver.ts';
import { makeCase, windowWall, type WallOptions } from './walls.ts';

const plan = (options: WallOptions) => {
  const { wall, lining } = makeCase(options).survey;
  const { boards, warnings } = planBoards(wall, lining, defaultSettings(), solver);
  return {
    boards: boards.map(({ id, along, up, width, height }) => [id, along, up, width, height]),
    cutouts: boards.map(({ cutouts }) =>
      cutouts.map(({ along, up, width, height }) => [along, up, width, height]),
    ),
    warnings,
  };
};
const short = { width: 1200, length: 2300, thickness: 12.5 };

describe('boards', () => {
  test('a door at the floor is cut from below, its joint clear of the corners', () => {
    const { boards, cutouts, warnings } = plan({
      openings: [{ along: 1400, up: 0, width: 900, height: 2000 }],
    });
    expect(boards).toEqual([
      ['A', 0, 12, 1200, 2433],
      ['B', 1200, 12, 1200, 2433],
      ['C', 2400, 12, 1200, 2433],
    ]);
    expect(cutouts[1]).toEqual([[1400, 12, 900, 1988]]);
    expect(warnings).toEqual([]);
  });
  test('a joint that would line up with a corner moves over the opening or away from it', () => {
    const { boards, warnings } = plan({ openings: [{ along: 1230, up: 900, width: 1000, height: 1200 }] });
    const joints = new Set(boards.slice(1).map(([, along]) => along as number));
    for (const joint of joints)
      for (const corner of [1230, 2230]) expect(Math.abs(joint - corner)).toBeGreaterThanOrEqual(100);
    expect(warnings).toEqual([]);
  });
  test('a joint moves off a box', () => {
    const { boards, warnings } = plan({ boxes: [{ along: 1160, up: 300, width: 80, height: 80 }] });
    for (const [, along] of boards.slice(1))
      expect(Math.abs((along as number) - 1200)).toBeGreaterThanOrEqual(140);
    expect(warnings).toEqual([]);
  });
  test('an opening wider than a board leaves pieces under and over it', () => {
    const { boards, warnings } = plan({
      width: 6000,
      openings: [{ along: 700, up: 900, width: 2600, height: 1200 }],
    });
    const between = boards.filter(([, along]) => along === 1200);
    expect(between).toEqual([
      ['B', 1200, 12, 1200, 888],
      ['C', 1200, 2100, 1200, 345],
    ]);
    expect(warnings).toEqual([]);
  });
  test('an opening from floor to ceiling parts the wall into two bays', () => {
    const { boards } = plan({ width: 4000, openings: [{ along: 1500, up: 0, width: 1000, height: 2450 }] });
    expect(boards.map(([id, along, , width]) => [id, along, width])).toEqual([
      ['A', 0, 1200],
      ['B', 1200, 300],
      ['C', 2500, 1200],
      ['D', 3700, 300],
    ]);
  });
  test('a door with a window over it up to the ceiling parts the wall just so', () => {
    const door = { along: 1500, up: 0, width: 1000, height: 2000 };
    const above = { along: 1500, up: 2000, width: 1000, height: 450 };
    expect(plan({ width: 4000, openings: [door, above] }).boards).toHaveLength(4);
  });
  test('a remainder too small to board is left to filler', () => {
    const { boards } = plan({ openings: [{ along: 1500, up: 900, width: 700, height: 1520 }] });
    expect(boards.some(([, , , , height]) => (height as number) < 50)).toBe(false);
  });
  test('stock too short: a piece on top, in every second column at the floor, none under 300 mm', () => {
    const { boards, warnings } = plan({ board: short });
    expect(boards).toEqual([
      ['A', 0, 12, 1200, 2133],
      ['B', 0, 2145, 1200, 300],
      ['C', 1200, 12, 1200, 300],
      ['D', 1200, 312, 1200, 2133],
      ['E', 2400, 12, 1200, 2133],
      ['F', 2400, 2145, 1200, 300],
    ]);
    expect(warnings).toEqual([{ code: 'board_too_short', subject: 'wall' }]);
  });
  test('stock a little short: full boards tight to the ceiling, the gap at the floor', () => {
    const { boards, warnings } = plan({ board: { width: 1200, length: 2400, thickness: 12.5 } });
    expect(boards).toEqual([
      ['A', 0, 45, 1200, 2400],
      ['B', 1200, 45, 1200, 2400],
      ['C', 2400, 45, 1200, 2400],
    ]);
    expect(warnings).toEqual([{ code: 'floor_gap_wide', subject: 'wall' }]);
  });
  test('stock too short beside a window: the level joint keeps off its corners', () => {
    const { boards } = plan({
      ...windowWall,
      board: short,
      openings: [{ along: 1300, up: 350, width: 700, height: 1750 }],
    });
    const joints = boards.filter(([, along]) => along === 1200).map(([, , up]) => up as number);
    for (const joint of joints.filter((up) => up > 12))
      for (const corner of [350, 2100]) expect(Math.abs(joint - corner)).toBeGreaterThanOrEqual(100);
  });
  test('stock too short beside a door: the joint does not cut its narrow legs off', () => {
    const { warnings } = plan({ board: short, openings: [{ along: 1350, up: 0, width: 900, height: 2000 }] });
    expect(warnings).toEqual([{ code: 'board_too_short', subject: 'wall' }]);
  });
  test('strip_narrow where the wall leaves no choice', () => {
    expect(plan({ width: 220 }).warnings).toEqual([{ code: 'strip_narrow', subject: 'A' }]);
  });
  test('joint_at_corner and joint_at_box where every place is bad', () => {
    const boxes = Array.from({ length: 18 }, (_, k) => ({
      along: 20 + 120 * k,
      up: 300,
      width: 80,
      height: 80,
    }));
    const crowded = plan({ width: 2200, boxes }).warnings;
    expect(crowded.length).toBeGreaterThan(0);
    expect(new Set(crowded.map(({ code }) => code))).toEqual(new Set(['joint_at_box']));
    const slots = Array.from({ length: 12 }, (_, k) => ({
      along: 100 + 170 * k,
      up: 900,
      width: 80,
      height: 900,
    }));
    expect(plan({ width: 2200, openings: slots }).warnings.map(({ code }) => code)).toContain(
      'joint_at_corner',
    );
  });
  test('names go on after Z, without I and O', () => {
    const { boards } = plan({ width: 600 * 27, board: { width: 600, length: 2600, thickness: 12.5 } });
    const names = boards.map(([id]) => id);
    expect(names.slice(7, 9)).toEqual(['H', 'J']);
    expect(names.slice(22, 26)).toEqual(['Y', 'Z', 'AA', 'AB']);
    expect(names).not.toContain('O');
  });
});
