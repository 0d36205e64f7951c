import { describe, expect, test } from 'vitest';
import { defaultSettings } from '../../../../src/core/lining/defaults.ts';
import { ceilingOver, findServices } from '../../../../src/core/lining/fixing/services.ts';
import { makeCase } from '../walls.ts';
import { fixWall } from './fixWall.ts';

const settings = defaultSettings();
const box = { along: 1000, up: 1100, width: 80, height: 120 };
const { wall } = makeCase({ boxes: [box] }).survey;

// BS 7671, 522.6.202: within 150 mm of the top of the wall or of an angle, or straight from an accessory, level or upright.
describe('cables are likely', () => {
  test.each([
    ['straight above a box', 1040, 2000, 'b1'],
    ['straight below a box', 1001, 100, 'b1'],
    ['level with a box', 2500, 1160, 'b1'],
    ['within 150 mm of the top of the wall', 2000, 2301, 'top'],
    ['within 150 mm of its left end', 149, 600, 'end'],
    ['within 150 mm of its right end', 3451, 600, 'end'],
    ['in the corner: the top counts first', 100, 2400, 'top'],
    ['nowhere else: beside a box', 1081, 1000, null],
    ['nowhere else: 150 mm under the top', 2000, 2300, null],
    ['nowhere else: 150 mm from an end', 150, 600, null],
  ])('%s', (_name, along, up, expected) => {
    expect(findServices({ along, up }, wall, settings)).toBe(expected);
  });
  test('as much beside a box as the setting says', () => {
    expect(findServices({ along: 1085, up: 500 }, wall, { ...settings, serviceSpareMm: 10 })).toBe('b1');
  });
  test('under a sloping ceiling, 150 mm below it', () => {
    const sloping = {
      ...wall,
      ceiling: [
        { along: 0, up: 2450 },
        { along: 3600, up: 2090 },
      ],
    };
    expect(ceilingOver(sloping, 1800)).toBeCloseTo(2270, 9);
    expect(findServices({ along: 1800, up: 2130 }, sloping, settings)).toBe('top');
    expect(findServices({ along: 1800, up: 2110 }, sloping, settings)).toBeNull();
    expect(ceilingOver(sloping, 4000)).toBe(2090);
  });
});

describe('gauge screws', () => {
  test('keep out of all zones where there is room', () => {
    const { screws, warnings } = fixWall({ boxes: [{ along: 560, up: 1090, width: 80, height: 80 }] });
    expect(screws.length).toBeGreaterThan(40);
    expect(screws.every(({ services }) => services === null)).toBe(true);
    expect(warnings).toEqual([]);
  });
  test('that cannot keep out are marked, and counted in screw_at_services', () => {
    // A row of boxes with zones side by side over the whole of a board.
    const boxes = Array.from({ length: 8 }, (_, k) => ({
      along: 1200 + 160 * k,
      up: 1100,
      width: 170,
      height: 80,
    }));
    const { screws, warnings } = fixWall({ boxes });
    const marked = screws.filter(({ services }) => services !== null);
    expect(marked.length).toBeGreaterThan(0);
    expect(marked.every(({ services }) => services?.startsWith('b'))).toBe(true);
    expect(warnings).toContainEqual({ code: 'screw_at_services', subject: 'wall', count: marked.length });
  });
  test('of a strip too narrow to keep off the end of the wall stand there, marked', () => {
    const { screws } = fixWall({ width: 280 });
    expect(screws.every(({ services }) => services === 'end')).toBe(true);
  });
  test('are as long as bed and plug ask for, of those on hand', () => {
    const { screws, warnings } = fixWall({ bed: { min: 11, max: 20, packedMax: 40 } });
    // 11 + 40 mm
    expect(new Set(screws.map(({ screwMm }) => screwMm))).toEqual(new Set([60]));
    expect(warnings).toEqual([]);
  });
  test('have no length where none on hand is long enough: screw_too_short', () => {
    const { screws, warnings } = fixWall({ lining: { screwLengths: [30, 44] } });
    expect(screws.every(({ screwMm }) => screwMm === null)).toBe(true);
    expect(warnings).toEqual([{ code: 'screw_too_short', subject: 'wall', count: screws.length }]);
  });
});
