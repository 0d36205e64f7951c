import type { CutPiece, StockSheet } from '../core/liningPlan.ts';
import type { WallRect } from '../core/survey.ts';
import { drawMeasures, roomBeside, roomUnder, mergeMeasures, type Measure } from './boardMeasures.ts';
import { hatchRect } from './boardShape.ts';
import { placeWall, type WallFrame } from './frame.ts';
import { writeLength, type Units } from './length.ts';
import { look, makePen, type Pen } from './look.ts';
import { areaAround } from './room.ts';
import { label, textRoom } from './text.ts';
import { element, type SvgNode } from './tree.ts';
import { areaOf, drawRect } from './wallParts.ts';

export interface CuttingSheetSize {
  readonly widthPx?: number;
  /** Greatest height of the stock board itself. */
  readonly highPx?: number;
  readonly fontPx?: number;
}

const rectOf = ({ x, y, width, length }: CutPiece): WallRect => ({ along: x, up: y, width, height: length });

/** A name and a size in the middle of a rectangle, turned where it is narrow, smaller or without the size where it is small. */
function writeInside(rect: WallRect, lines: readonly string[], frame: WallFrame, pen: Pen, bold: boolean) {
  const { left, right, top, bottom } = areaOf(rect, frame);
  const [across, down] = [right - left, bottom - top];
  const tries = [lines, lines.slice(0, 2), [lines.slice(0, 2).join(' ')], lines.slice(0, 1)].flatMap(
    (texts) =>
      [pen.font, pen.small, 0.8 * pen.small].flatMap((size) =>
        [false, true].map((turned) => ({ texts, size, turned })),
      ),
  );
  const fits = ({ texts, size, turned }: (typeof tries)[number]) => {
    const wide = Math.max(...texts.map((text) => textRoom(text, size))) + 0.4 * size;
    const high = 1.2 * size * texts.length;
    return turned ? wide <= down && high <= across : wide <= across && high <= down;
  };
  const chosen = tries.find(fits);
  if (!chosen) return [];
  const { texts, size, turned } = chosen;
  const [midX, midY] = [(left + right) / 2, (top + bottom) / 2];
  const wide = Math.max(...texts.map((text) => textRoom(text, size)));
  const high = 1.2 * size * texts.length;
  const ground = turned ? areaAround(midX, midY, high, wide) : areaAround(midX, midY, wide, high);
  return [
    // lines of measures stop at a text
    element('rect', {
      ...{ x: ground.left, y: ground.top, width: ground.right - ground.left },
      height: ground.bottom - ground.top,
      fill: bold ? look.wall : look.sheet,
    }),
    ...texts.map((text, k) => {
      const shift = (k - (texts.length - 1) / 2) * 1.2 * size;
      const style = {
        size,
        turned,
        anchor: 'middle',
        bold: bold && k === 0,
        fill: bold ? look.pencil : look.graphite,
      } as const;
      return label(text, turned ? midX + shift : midX, turned ? midY : midY + shift, style);
    }),
  ];
}

/** Where the cuts go: sides of pieces from the sheet's left edge and up from its bottom edge (mm). */
export function listCutMeasures(sheet: StockSheet): {
  readonly bottom: readonly Measure[];
  readonly left: readonly Measure[];
} {
  const inside = (whole: number) => (measure: Measure) => measure.atMm > 0.5 && measure.atMm < whole - 0.5;
  const bottom = sheet.pieces.flatMap(({ x, y, width }) =>
    [x, x + width].map((atMm): Measure => ({ atMm, reachMm: y })),
  );
  const left = sheet.pieces.flatMap(({ x, y, length }) =>
    [y, y + length].map((atMm): Measure => ({ atMm, reachMm: x })),
  );
  return {
    bottom: mergeMeasures([
      ...bottom.filter(inside(sheet.width)),
      { atMm: sheet.width, reachMm: 0, whole: true },
    ]),
    left: mergeMeasures([
      ...left.filter(inside(sheet.length)),
      { atMm: sheet.length, reachMm: 0, whole: true },
    ]),
  };
}

/** A stock board standing upright with the pieces that are cut from it, their names and sizes, and what is left over hatched. */
export function drawCuttingSheet(sheet: StockSheet, units: Units, size: CuttingSheetSize = {}): SvgNode {
  const { widthPx = 300, highPx = 380, fontPx = 12 } = size;
  const pen = makePen(fontPx);
  const measures = listCutMeasures(sheet);
  const leftRoom = roomBeside(measures.left, units, pen);
  const rightRoom = 2.5 * fontPx;
  const perMm = Math.min((widthPx - leftRoom - rightRoom) / sheet.width, highPx / sheet.length);
  const spare = widthPx - leftRoom - rightRoom - sheet.width * perMm;
  const whole = { width: sheet.width, height: sheet.length };
  const frame = placeWall(whole, leftRoom + spare / 2, 1.6 * fontPx, perMm);
  const heightPx = Math.ceil(frame.bottom + roomUnder(measures.bottom, frame, units, pen));
  const sizeText = (width: number, height: number) =>
    `${writeLength(width, units, 1)} × ${writeLength(height, units, 1)}`;
  return element(
    'svg',
    { viewBox: `0 0 ${widthPx} ${heightPx}`, width: widthPx, height: heightPx },
    element('rect', { x: 0, y: 0, width: widthPx, height: heightPx, fill: look.sheet }),
    drawRect({ along: 0, up: 0, ...whole }, frame, { fill: look.sheet, stroke: 'none' }),
    ...sheet.offcuts.flatMap((offcut) => [
      hatchRect(offcut, frame, pen),
      drawRect(offcut, frame, { fill: 'none', stroke: look.edge, 'stroke-width': pen.hair }),
    ]),
    ...sheet.pieces.map((piece) =>
      drawRect(rectOf(piece), frame, { fill: look.wall, stroke: look.pencil, 'stroke-width': pen.line }),
    ),
    drawRect({ along: 0, up: 0, ...whole }, frame, {
      fill: 'none',
      stroke: look.pencil,
      'stroke-width': pen.heavy,
    }),
    drawMeasures(measures.bottom, 'bottom', frame, units, pen),
    drawMeasures(measures.left, 'left', frame, units, pen),
    ...sheet.offcuts.flatMap((offcut) =>
      writeInside(offcut, ['offcut', sizeText(offcut.width, offcut.height)], frame, pen, false),
    ),
    ...sheet.pieces.flatMap((piece) =>
      writeInside(
        rectOf(piece),
        [piece.piece, sizeText(piece.width, piece.length), ...(piece.turn === 180 ? ['head down'] : [])],
        frame,
        pen,
        true,
      ),
    ),
  );
}
