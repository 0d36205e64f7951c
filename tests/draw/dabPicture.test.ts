import { describe, expect, test } from 'vitest';
import { drawBoardDabs, drawWallDabs, listDabMeasures, toneOfDepth } from '../../src/draw/dabPicture.ts';
import { look } from '../../src/draw/look.ts';
import { listTexts } from '../../src/draw/tree.ts';
import { makeDabbed } from './boardCases.ts';
import { listElements } from './boxes.ts';

const { survey, plan, board } = makeDabbed();
const dabRects = (drawing: ReturnType<typeof drawWallDabs>) =>
  listElements(drawing, 'rect').filter(({ attrs }) => attrs.stroke === look.graphite);

describe('dabs of one board', () => {
  const drawing = drawBoardDabs({ survey, plan }, board);

  test('are drawn to size: footprints stand to the board as in millimetres', () => {
    const outline = listElements(drawing, 'path')[0]!;
    const numbers = String(outline.attrs.d)
      .match(/[\d.]+/g)!
      .map(Number);
    const xs = numbers.filter((_, k) => k % 2 === 0);
    const perMm = (Math.max(...xs) - Math.min(...xs)) / board.width;
    const rects = dabRects(drawing);
    expect(rects).toHaveLength(plan.dabs.length);
    rects.forEach(({ attrs }, k) => {
      expect(Number(attrs.width) / perMm).toBeCloseTo(plan.dabs[k]!.width, 0);
      expect(Number(attrs.height) / perMm).toBeCloseTo(plan.dabs[k]!.height, 0);
    });
  });

  test('each has its depth written, and the middles are measured from the left and the bottom', () => {
    const texts = listTexts(drawing);
    for (const { depthMm } of plan.dabs) expect(texts).toContain(String(depthMm));
    const { bottom, left } = listDabMeasures(board, plan.dabs);
    expect(bottom.map(({ atMm }) => atMm)).toEqual([300, 900, 1200]);
    expect(left.map(({ atMm }) => atMm)).toEqual([300, 750, 1200, 1650, 2100, 2433]);
  });

  test('packing and the screws of the board are there, those of others not', () => {
    const packed = listElements(drawing, 'rect').filter(({ attrs }) => attrs.stroke === look.signal);
    expect(packed).toHaveLength(1);
    const other = drawBoardDabs(
      { survey, plan: { ...plan, dabs: [], packing: { strips: [], cuts: [] } } },
      board,
    );
    expect(dabRects(other)).toHaveLength(0);
    const crosses = (of: typeof drawing) =>
      listElements(of, 'g').filter(
        ({ attrs, children }) => attrs.stroke === look.pencil && children.length === 2,
      );
    expect(crosses(drawing)).toHaveLength(plan.screws.length);
  });
});

test('of the whole wall every dab is drawn, also where there is none behind some boards', () => {
  expect(dabRects(drawWallDabs({ survey, plan }))).toHaveLength(plan.dabs.length);
  expect(dabRects(drawWallDabs({ survey, plan: { ...plan, dabs: [] } }))).toHaveLength(0);
});

test('the deeper the darker, and the same beyond the deepest', () => {
  const bed = { min: 5, max: 20, packedMax: 40 };
  const light = (depthMm: number) => parseInt(toneOfDepth(depthMm, bed).slice(1, 3), 16);
  expect(light(5)).toBeGreaterThan(light(20));
  expect(light(20)).toBeGreaterThan(light(40));
  expect(toneOfDepth(60, bed)).toBe(toneOfDepth(40, bed));
  expect(toneOfDepth(5, { min: 5, max: 5, packedMax: 5 })).toBe(toneOfDepth(0, bed));
});
