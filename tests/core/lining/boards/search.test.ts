import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cutItems, rankCutting } from '../../../../src/core/lining/boards/cutting.ts';
import { listBoardItems } from '../../../../src/core/lining/boards/joins.ts';
import { planBoards } from '../../../../src/core/lining/boards.ts';
import { defaultSettings } from '../../../../src/core/lining/defaults.ts';
import type { Lining } from '../../../../src/core/survey.ts';
import { solver } from '../../../solver.ts';
import { makeCase, type WallOptions } from '../walls.ts';
import { searchCuttings, type BrutePiece } from './bruteCutting.ts';

const stock = { width: 1200, length: 2600 };

const plan = (options: WallOptions, start?: Lining['start']) => {
  const { wall, lining } = makeCase(options).survey;
  const { boards } = planBoards(wall, start ? { ...lining, start } : lining, defaultSettings(), solver);
  const items = listBoardItems(boards, (k) => boards[k]!.id);
  const [sheets, , cutJoints, cuts] = rankCutting(
    cutItems(items, [stock], solver, [{ choicesMost: 700, nodesMost: 200 }]),
  );
  return { widths: boards.map(({ width }) => width), rank: [boards.length, sheets, cutJoints, cuts] };
};

/** Every way to board a bay with as few boards as can be, joints on a lattice, none under 300 mm or near a box. */
function listWidths(bayMm: number, fromMm: number, box: number | null, latticeMm: number): number[][] {
  const least = Math.ceil(bayMm / stock.width);
  const found: number[][] = [];
  const add = (widths: readonly number[], left: number) => {
    if (widths.length === least - 1) {
      if (left >= Math.min(300, bayMm) && left <= stock.width) found.push([...widths, left]);
      return;
    }
    for (let width = 300; width <= stock.width && width < left; width += latticeMm) {
      const joint = fromMm + bayMm - left + width;
      if (box === null || joint <= box - 100 || joint >= box + 180) add([...widths, width], left - width);
    }
  };
  add([], bayMm);
  return found;
}

describe('the layout', () => {
  test('starts where the survey says', () => {
    expect(plan({ width: 4850 }, 'left').widths).toEqual([1200, 1200, 1200, 950, 300]);
    expect(plan({ width: 4850 }, 'right').widths).toEqual([300, 950, 1200, 1200, 1200]);
    expect(plan({ width: 4850 }, 'balanced').widths).toEqual([625, 1200, 1200, 1200, 625]);
    expect(plan({ width: 4000 }, 'right').widths).toEqual([400, 1200, 1200, 1200]);
  });
  test('where all cost the same it is the balanced one', () => {
    expect(plan({ width: 4850 }).widths).toEqual([625, 1200, 1200, 1200, 625]);
    expect(plan({ width: 4000 }).widths).toEqual([1200, 1200, 1200, 400]);
  });
  test('strips of two bays are made to come out of one board', () => {
    const { widths, rank } = plan({
      width: 4600,
      openings: [{ along: 2050, up: 0, width: 1000, height: 2450 }],
    });
    // 850 + 1200 and 350 + 1200: both strips from one board, which balanced ends (1025 + 1025) would not give.
    expect(widths.slice().sort((a, b) => a - b)).toEqual([350, 850, 1200, 1200]);
    expect(rank).toEqual([4, 3, 0, 4]);
  });
  test('is as good, cut, as the best of every layout of two bays on a 50 mm lattice', () => {
    const latticeMm = 50;
    let checked = 0;
    fc.assert(
      fc.property(
        fc.integer({ min: 7, max: 46 }),
        fc.integer({ min: 7, max: 46 }),
        fc.option(fc.integer({ min: 4, max: 20 })),
        (a, b, at) => {
          const [left, right] = [a * latticeMm, b * latticeMm];
          const box = at !== null && 50 * at + 80 < left ? 50 * at : null;
          const trials = [
            listWidths(left, 0, box, latticeMm),
            listWidths(right, left + 1000, null, latticeMm),
          ] as const;
          fc.pre(trials[0].length > 0);
          let best = [Infinity, Infinity, Infinity];
          const known = new Set<string>();
          for (const one of trials[0])
            for (const two of trials[1]) {
              const pieces = [one, two].flatMap((widths) =>
                widths.map((width, k): BrutePiece => ({
                  width,
                  length: 2433,
                  wants: Number(k > 0) + Number(k < widths.length - 1),
                })),
              );
              const name = pieces
                .map(({ width, wants }) => `${width} ${wants}`)
                .sort()
                .join();
              if (known.has(name)) continue;
              known.add(name);
              const rank = searchCuttings(pieces, stock.width, stock.length);
              const k = rank.findIndex((value, i) => value !== best[i]);
              if (k >= 0 && rank[k]! < best[k]!) best = [...rank];
            }
          const made = plan({
            width: left + 1000 + right,
            openings: [{ along: left, up: 0, width: 1000, height: 2450 }],
            boxes: box === null ? [] : [{ along: box, up: 300, width: 80, height: 80 }],
          });
          checked++;
          expect(made.rank).toEqual([trials[0][0]!.length + trials[1][0]!.length, ...best]);
        },
      ),
      { numRuns: 25, seed: 4, endOnFailure: true },
    );
    expect(checked).toBeGreaterThan(15);
  });
});
