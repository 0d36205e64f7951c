import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { boundSheets } from '../../../../src/core/lining/boards/bound.ts';
import { cutItems, isBefore, rankCutting } from '../../../../src/core/lining/boards/cutting.ts';
import { groupItems, type CutItem } from '../../../../src/core/lining/boards/pieceKind.ts';
import { boundRank } from '../../../../src/core/lining/boards/rankBound.ts';
import { solver } from '../../../solver.ts';
import { searchCuttings } from './bruteCutting.ts';

const stock = [{ width: 1200, length: 2400 }];
const efforts = [{ choicesMost: 700, nodesMost: 200 }];
const piece = (width: number, length: number, left = false, right = false): CutItem => ({
  id: `${width}x${length}`,
  width,
  length,
  mayTurn: false,
  joints: { left, right },
});
const loose = (width: number, length: number): CutItem => ({ ...piece(width, length), mayTurn: true });
const cut = (items: readonly CutItem[], sizes = stock) => cutItems(items, sizes, solver, efforts);
const rank = (items: readonly CutItem[]) => {
  const [sheets, , joints, cuts] = rankCutting(cut(items));
  return [sheets, joints, cuts];
};

describe('cutting', () => {
  test('nothing to cut takes no sheet', () => {
    expect(cut([])).toEqual({ sheets: [], sheetsLeast: 0 });
  });
  test('whole boards take no cut', () => {
    expect(rank([piece(1200, 2400, true, true), piece(1200, 2400, true, true)])).toEqual([2, 0, 0]);
  });
  test('two strips share a board, each with a bound edge at its joint', () => {
    expect(rank([piece(500, 2400, true), piece(600, 2400, false, true)])).toEqual([1, 0, 2]);
  });
  test('of three strips one has no bound edge', () => {
    expect(rank([400, 400, 400].map((width) => piece(width, 2400, true)))).toEqual([1, 1, 2]);
  });
  test('a strip whose bound edge is on the other side hangs head down', () => {
    const { sheets } = cut([piece(500, 2400, true), piece(600, 2400, true)]);
    expect(sheets[0]!.pieces.map(({ turn }) => turn).sort()).toEqual([0, 180]);
  });
  test('pieces all to one length are cut to length together, then ripped', () => {
    expect(rank([300, 400, 500].map((width) => piece(width, 2000)))).toEqual([1, 0, 3]);
  });
  test('reveals come from what a board leaves, turned where that helps', () => {
    const { sheets } = cut([piece(1200, 2200, true, true), loose(150, 1100), loose(50, 1200)]);
    expect(sheets).toHaveLength(1);
    expect(sheets[0]!.pieces.filter(({ turn }) => turn === 90)).toHaveLength(2);
  });
  test('takes the size of board that wastes least among as few boards', () => {
    const { sheets } = cut(
      [piece(600, 2300)],
      [
        { width: 1200, length: 2400 },
        { width: 900, length: 2400 },
      ],
    );
    expect(sheets.map((sheet) => sheet.stock.width)).toEqual([900]);
  });
  test('many small pieces, too many to list all cuttings, are cut near the least and the gap is said', () => {
    const items = Array.from({ length: 60 }, (_, k) => loose(80 + 7 * (k % 9), 300 + 31 * (k % 11)));
    const { sheets, sheetsLeast } = cutItems(items, stock, solver, [{ choicesMost: 200, nodesMost: 20 }]);
    expect(sheets.flatMap(({ pieces }) => pieces)).toHaveLength(60);
    expect(sheets.length - sheetsLeast).toBeLessThanOrEqual(1);
  });
  test('is the best of every way to share up to six upright pieces among stock boards', () => {
    const size = fc.record({
      width: fc.constantFrom(300, 400, 500, 600, 700, 850, 1200),
      length: fc.constantFrom(400, 800, 1000, 1200, 1400, 2300, 2400),
      left: fc.boolean(),
      right: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(size, { minLength: 1, maxLength: 6 }), (sizes) => {
        const items = sizes.map(({ width, length, left, right }) => piece(width, length, left, right));
        const brute = searchCuttings(
          items.map(({ width, length, joints }) => ({
            width,
            length,
            wants: Number(joints.left) + Number(joints.right),
          })),
          1200,
          2400,
        );
        expect(rank(items)).toEqual(brute);
        const kinds = groupItems(items);
        const floor = boundSheets(kinds, stock);
        const [sheets, , joints, cuts] = boundRank(kinds, stock, floor);
        expect(floor).toBeLessThanOrEqual(brute[0]);
        expect(isBefore(brute, [sheets, joints, cuts])).toBe(false);
      }),
      { numRuns: 60, seed: 7 },
    );
  });
});
