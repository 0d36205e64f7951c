import { describe, expect, test } from 'vitest';
import { planReveals } from '../../../../src/core/lining/boards/reveals.ts';
import { defaultSettings } from '../../../../src/core/lining/defaults.ts';
import type { Opening } from '../../../../src/core/survey.ts';
import { makeCase } from '../walls.ts';

const { survey } = makeCase();
const stock = [{ width: 1200, length: 2600 }];
const reveals = (opening: Omit<Opening, 'id'>, sizes = stock) =>
  planReveals(
    { ...survey.wall, openings: [{ ...opening, id: 'o1' }] },
    survey.lining,
    sizes,
    defaultSettings(),
  ).map(({ id, width, length }) => [id, width, length]);
const window = { kind: 'window', along: 1500, up: 900, width: 700, height: 1200 };

describe('reveals', () => {
  test('none where the opening does not say how deep it is', () => {
    expect(reveals(window)).toEqual([]);
    expect(reveals({ ...window, reveal: 0 })).toEqual([]);
  });
  test('of a window: the head across, sides under it, the sill between them', () => {
    // The head's board takes 10 mm of adhesive and 12.5 mm of board off the sides, each side as much off the sill.
    expect(reveals({ ...window, reveal: 150 })).toEqual([
      ['o1-left', 150, 1177.5],
      ['o1-right', 150, 1177.5],
      ['o1-head', 150, 700],
      ['o1-sill', 150, 655],
    ]);
  });
  test('of a door: no sill, the sides keep the floor gap', () => {
    expect(reveals({ kind: 'door', along: 1500, up: 0, width: 900, height: 2000, reveal: 200 })).toEqual([
      ['o1-left', 200, 2000 - 22.5 - 12],
      ['o1-right', 200, 2000 - 22.5 - 12],
      ['o1-head', 200, 900],
    ]);
  });
  test('none at the end of the wall nor at the ceiling', () => {
    expect(reveals({ kind: 'window', along: 0, up: 900, width: 700, height: 1550, reveal: 150 })).toEqual([
      ['o1-right', 150, 1550],
      ['o1-sill', 150, 677.5],
    ]);
  });
  test('a head longer than the stock is made of equal parts', () => {
    expect(reveals({ ...window, along: 100, width: 3000, reveal: 150 }).slice(2, 4)).toEqual([
      ['o1-head-1', 150, 1500],
      ['o1-head-2', 150, 1500],
    ]);
  });
  test('weigh as the wall boards do', () => {
    const [left] = planReveals(
      { ...survey.wall, openings: [{ ...window, id: 'o1', reveal: 150 }] },
      survey.lining,
      stock,
      defaultSettings(),
    );
    expect(left!.massKg).toBeCloseTo(0.15 * 1.1775 * 8.6, 9);
  });
});
