import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { findPath, PATH_COSTS, type StrengthMap } from '../../../src/core/line/path.ts';

/** A map written as a picture: '#' is a full-strength line, '.' nothing. */
function draw(...lines: string[]): StrengthMap {
  const width = lines[0]!.length;
  const values = Float32Array.from(lines.join(''), (sign) => (sign === '#' ? 9 : 0));
  return { width, height: lines.length, values };
}

const rowsOf = (map: StrengthMap) => Array.from(findPath(map).rows);

describe('findPath', () => {
  test('follows a level line', () => {
    const map = draw('..............', '##############', '..............');
    expect(rowsOf(map)).toEqual(Array(14).fill(1));
    expect(findPath(map).score).toBeCloseTo(14 - 2 * PATH_COSTS.gapEnd, 6);
  });

  test('follows a slope of two rows a column', () => {
    const map = draw(
      '#.............',
      '..............',
      '.#............',
      '..............',
      '..############',
    );
    expect(rowsOf(map)).toEqual([0, 2, ...Array<number>(12).fill(4)]);
  });

  test('steps to another height', () => {
    const map = draw(
      '##########..........',
      '....................',
      '....................',
      '....................',
      '....................',
      '..........##########',
    );
    const rows = Array.from(findPath(map, { ...PATH_COSTS, step: 0.5, stepHeight: 0.5 }).rows);
    expect(rows).toEqual([...Array<number>(10).fill(0), ...Array<number>(10).fill(5)]);
  });

  test('leaves a hole of ten columns as a gap', () => {
    const map = draw('....................................', '############..........##############');
    const rows = rowsOf(map);
    expect(rows.slice(0, 12)).toEqual(Array(12).fill(1));
    expect(rows.slice(12, 22)).toEqual(Array(10).fill(-1));
    expect(rows.slice(22)).toEqual(Array(14).fill(1));
  });

  test('bridges a hole of two columns', () => {
    expect(rowsOf(draw('..............', '######..######'))).toEqual(Array(14).fill(1));
  });

  test('an empty map, a faint one and a few strong places are no line', () => {
    const faint = new Float32Array(400).fill(PATH_COSTS.threshold - 0.1);
    for (const map of [
      draw('....', '....'),
      { width: 40, height: 10, values: faint },
      draw('....##....', '..........'),
    ]) {
      expect(findPath(map).score).toBe(0);
      expect(rowsOf(map).every((row) => row === -1)).toBe(true);
    }
  });

  test('a map of one row and a map of one column', () => {
    expect(rowsOf(draw('##########'))).toEqual(Array(10).fill(0));
    expect(rowsOf(draw('#', '.'))).toEqual([-1]);
  });

  test('is as good as the best of all paths, tried one by one', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 15, maxLength: 15 }), (strengths) => {
        const map = { width: 5, height: 3, values: Float32Array.from(strengths) };
        const costs = { ...PATH_COSTS, gapEnd: 0.7, step: 1, stepHeight: 1 };
        expect(findPath(map, costs).score).toBeCloseTo(tryAllPaths(map, costs), 5);
      }),
      { seed: 7, numRuns: 60 },
    );
  });
});

/** The best score over all 4^5 ways through a map of 3 rows and 5 columns. */
function tryAllPaths(map: StrengthMap, costs: typeof PATH_COSTS): number {
  let best = 0;
  for (let code = 0; code < 4 ** 5; code++) {
    const rows = [-1, ...Array.from({ length: 5 }, (_, x) => (Math.floor(code / 4 ** x) % 4) - 1), -1];
    let score = 0;
    for (let x = 1; x < rows.length; x++) {
      const [from, to] = [rows[x - 1]!, rows[x]!];
      if (to >= 0) {
        const strength = Math.min(costs.enough, map.values[to * map.width + x - 1]!);
        score += (strength - costs.threshold) / (costs.enough - costs.threshold);
      }
      if (from < 0 !== to < 0) score -= costs.gapEnd;
      else if (to >= 0) {
        const rise = Math.abs(to - from);
        const slope = rise <= 2 ? costs.slope * rise : Infinity;
        score -= Math.min(slope, costs.step + (costs.stepHeight / map.height) * rise);
      }
    }
    best = Math.max(best, score);
  }
  return best;
}
