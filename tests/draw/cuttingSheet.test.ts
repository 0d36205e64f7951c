import { describe, expect, test } from 'vitest';
import { drawCuttingSheet, listCutMeasures } from '../../src/draw/cuttingSheet.ts';
import { listTexts } from '../../src/draw/tree.ts';
import { stockSheet } from './boardCases.ts';
import { listElements } from './boxes.ts';

describe('cutting drawing', () => {
  test('measures every side of a piece from the left and the bottom edge, each once', () => {
    const { bottom, left } = listCutMeasures(stockSheet);
    expect(bottom.map(({ atMm }) => atMm)).toEqual([700, 840, 915, 1200]);
    expect(left.map(({ atMm }) => atMm)).toEqual([905, 1505, 2105, 2433, 2600]);
  });

  test('names each piece and offcut with its size, and says which piece lies head down', () => {
    const texts = listTexts(drawCuttingSheet(stockSheet, 'mm', { widthPx: 420, highPx: 600 }));
    expect(texts).toEqual(
      expect.arrayContaining(['B', '700 × 2433', 'F', '500 × 905', 'head down', '1200 × 167', 'offcut']),
    );
    expect(texts.filter((text) => text === 'head down')).toHaveLength(1);
  });

  test('draws pieces to scale: their area is the same share of the sheet as in millimetres', () => {
    const drawing = drawCuttingSheet(stockSheet, 'mm');
    const area = ({ attrs }: { attrs: Readonly<Record<string, string | number>> }) =>
      Number(attrs.width) * Number(attrs.height);
    const rects = listElements(drawing, 'rect');
    const heavy = Math.max(...rects.map(({ attrs }) => Number(attrs['stroke-width'] ?? 0)));
    const sheet = rects.find(({ attrs }) => attrs['stroke-width'] === heavy)!;
    const piece = rects.find(
      ({ attrs }) =>
        attrs['stroke-width'] !== heavy &&
        Math.abs(Number(attrs.height) / Number(sheet.attrs.height) - 2433 / 2600) < 1e-6,
    )!;
    expect(area(piece) / area(sheet)).toBeCloseTo((700 * 2433) / (1200 * 2600), 6);
  });

  test('a sheet that is taken whole has its two sides only', () => {
    const whole = {
      ...stockSheet,
      pieces: [{ piece: 'A', x: 0, y: 0, width: 1200, length: 2600, turn: 0 as const }],
      offcuts: [],
      cuts: 0,
    };
    const { bottom, left } = listCutMeasures(whole);
    expect([bottom.length, left.length]).toEqual([1, 1]);
    expect(listTexts(drawCuttingSheet(whole, 'inch'))).toEqual([
      '47 1/4',
      '102 3/8',
      'A',
      '47 1/4 × 102 3/8',
    ]);
  });
});
