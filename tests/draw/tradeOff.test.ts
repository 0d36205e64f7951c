import { expect, test } from 'vitest';
import { look } from '../../src/draw/look.ts';
import { drawTradeOff, nearestOption } from '../../src/draw/tradeOff.ts';
import { areOver } from '../../src/draw/room.ts';
import { listTexts } from '../../src/draw/tree.ts';
import { listElements, listTextBoxes } from './boxes.ts';
import { options } from './workedPlan.ts';

const draw = (chosen: number | null, of: 'bed' | 'powder' = 'bed') =>
  drawTradeOff({ options, of, chosen, units: 'mm' });

test('every option says its value, and its count of spots, also where a count is left out', () => {
  const texts = listTexts(draw(1));
  for (const { meanBedMm, spots } of options) {
    expect(texts).toContain(String(meanBedMm));
    expect(texts).toContain(String(spots.length));
  }
  expect(listTexts(draw(1, 'powder'))).toContain(String(Math.round(options[0]!.powderKg)));
});

test('heights are in the share of the values: the axis starts at zero', () => {
  const circles = listElements(draw(null), 'circle').map(({ attrs }) => Number(attrs.cy));
  const base = listElements(draw(null), 'line').map(({ attrs }) => Number(attrs.y1));
  const zero = Math.max(...base);
  circles.forEach((cy, k) =>
    expect((zero - cy) / (zero - circles[0]!)).toBeCloseTo(options[k]!.meanBedMm / options[0]!.meanBedMm, 9),
  );
});

test('the chosen option alone is filled; what is not proven is a square', () => {
  const filled = (chosen: number | null) =>
    listElements(draw(chosen), 'circle').map(({ attrs }) => attrs.fill === look.pencil);
  expect(filled(2)).toEqual([false, false, true, false, false]);
  expect(filled(null)).toEqual([false, false, false, false, false]);
  const squares = listElements(draw(5), 'rect').filter(({ attrs }) => attrs.width === attrs.height);
  expect(squares.map(({ attrs }) => attrs.fill)).toEqual([look.pencil]);
});

test('a tap on a mark picks its option, one beyond the ends the first or the last', () => {
  const marks = listElements(draw(null), 'circle').map(({ attrs }) => Number(attrs.cx));
  expect(marks.map((x) => nearestOption(x, options.length, {}))).toEqual([0, 1, 2, 3, 4]);
  expect(nearestOption(-50, options.length, {})).toBe(0);
  expect(nearestOption(5000, options.length, {})).toBe(options.length - 1);
});

test('a single option, none to hack off, can be drawn', () => {
  const texts = listTexts(drawTradeOff({ options: options.slice(0, 1), of: 'bed', chosen: 0, units: 'mm' }));
  expect(texts).toContain('15.2');
});

test.each([340, 640])('texts do not run into each other at %i px', (widthPx) => {
  const boxes = listTextBoxes(drawTradeOff({ options, of: 'bed', chosen: 0, units: 'inch' }, { widthPx }));
  const collisions = boxes.flatMap((a, k) =>
    boxes.slice(k + 1).flatMap((b) => (areOver(a, b) ? [`${a.text} / ${b.text}`] : [])),
  );
  expect(collisions).toEqual([]);
});
