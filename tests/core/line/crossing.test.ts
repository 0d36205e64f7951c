import { describe, expect, test } from 'vitest';
import {
  bridgeCrossing,
  bridgeCrossings,
  findCrossing,
  type SeenLine,
} from '../../../src/core/line/crossing.ts';
import type { LineAxis, LinePoint } from '../../../src/core/survey.ts';

/** A straight line with a point in every column, pulled aside near `pulledAt`. */
function makeLine(axis: LineAxis, at: number, slope: number, pulledAt = NaN, from = 0, to = 200): SeenLine {
  const points: LinePoint[] = [];
  for (let s = from; s <= to; s++) {
    const across = at + slope * s + (Math.abs(s - pulledAt) < 5 ? 1.5 : 0);
    points.push({
      u: axis === 'level' ? s : across,
      v: axis === 'level' ? across : s,
      sigma: 0.1,
      state: 'found',
    });
  }
  return { axis, points, widthPx: 4 };
}

describe('crossing', () => {
  const level = makeLine('level', 80, 0.05, 100);
  const plumb = makeLine('plumb', 96, 0.05, 85);

  test('is found where the two lines meet', () => {
    const at = findCrossing(makeLine('level', 80, 0.05), makeLine('plumb', 96, 0.05))!;
    // v = 80 + 0.05 u, u = 96 + 0.05 v
    expect(at.u).toBeCloseTo((96 + 0.05 * 80) / (1 - 0.05 * 0.05), 2);
    expect(at.v).toBeCloseTo(80 + 0.05 * at.u, 2);
  });

  test('each line is bridged by its own fit, flagged, a point in every column', () => {
    const bridged = bridgeCrossing(level, plumb);
    const near = bridged.level.filter(({ why }) => why === 'crossing');
    expect(bridged.level.length).toBe(201);
    expect(near.length).toBeGreaterThan(12);
    expect(near.length).toBeLessThan(20);
    for (const { u, v, state } of near) {
      expect(state).toBe('suspect');
      expect(Math.abs(v - 80 - 0.05 * u)).toBeLessThan(0.01);
    }
    for (const { u, v } of bridged.plumb) expect(Math.abs(u - 96 - 0.05 * v)).toBeLessThan(0.01);
  });

  test('a gap at the crossing is bridged too', () => {
    const open = { ...level, points: level.points.filter(({ u }) => Math.abs(u - 100) > 6) };
    expect(bridgeCrossing(open, plumb).level.length).toBe(201);
  });

  test('points set by hand stay as they are', () => {
    const points = level.points.map((point) =>
      point.u === 101 ? { ...point, state: 'moved' as const } : point,
    );
    const bridged = bridgeCrossing({ ...level, points }, plumb);
    expect(bridged.level.find(({ u }) => u === 101)).toEqual(points[101]);
  });

  test('lines that do not reach each other are left alone, and so is a line without points', () => {
    const short = makeLine('plumb', 96, 0.05, NaN, 150, 200);
    expect(findCrossing(level, short)).toBeNull();
    expect(bridgeCrossing(level, short).level).toBe(level.points);
    expect(bridgeCrossings([level, { ...plumb, points: [] }])[0]).toBe(level.points);
    expect(bridgeCrossings([level, makeLine('level', 120, 0)])).toHaveLength(2);
  });

  test('where a line ends at the crossing nothing is invented beyond it: its points there are suspect only', () => {
    const ending = makeLine('level', 80, 0.05, NaN, 0, 103);
    const bridged = bridgeCrossing(ending, plumb);
    expect(bridged.level.length).toBe(104);
    expect(bridged.level.filter(({ why }) => why === 'crossing').length).toBeGreaterThan(5);
  });
});
