import type { Warning } from '../../refusal.ts';
import type { Opening, StockSize, Wall, WallRect, WallSpot } from '../../survey.ts';
import { widenFloorGap, type BoardedFrame } from '../bays.ts';
import type { LiningSettings } from '../defaults.ts';
import type { BoardRun } from '../joints.ts';
import { listKeptClear, partFrame, sliceUp, type KeptClear } from '../keptClear.ts';
import { cutPieces, type Piece } from '../pieces.ts';
import { rectOf, sidesOf, type Sides } from '../rects.ts';
import { fitBetween } from './outline.ts';
import { closeMm } from './pieceKind.ts';
import { raiseLine, rangeOf } from './wallLine.ts';

/** What a layout is made on: the wall as the boards meet it. */
export interface LayoutGround {
  readonly wall: Wall;
  readonly frame: BoardedFrame;
  readonly openings: readonly Opening[];
  readonly stock: readonly StockSize[];
  readonly settings: LiningSettings;
}

/** A board of a layout. */
export interface LaidBoard extends Piece {
  readonly outline: readonly WallSpot[] | null;
  readonly isNarrow: boolean;
}

/** Boards of one choice of joints; `faults`: joints where none should be, level joints and narrow boards, counted. */
export interface Layout {
  readonly boards: readonly LaidBoard[];
  readonly faults: number;
  readonly warnings: readonly Warning[];
}

/** Too narrow for two columns of dabs, or too low for one row. */
const isNarrow = ({ width, height }: WallRect, stock: readonly StockSize[], settings: LiningSettings) =>
  width < Math.min(settings.minStripMm, Math.max(...stock.map((size) => size.width)) / 2) - 1e-6 ||
  height < 2 * settings.leastPieceMm;

/** The longest stock board that is wide enough. */
const longestAt = (widthMm: number, stock: readonly StockSize[]): number =>
  Math.max(...stock.filter(({ width }) => width >= widthMm - closeMm).map(({ length }) => length));

/** Cuts a piece taller than the stock: the short part on top or at the floor, whichever leaves fewer narrow pieces. */
function cutToLength(
  piece: Piece,
  lengthMm: number,
  { stock, settings }: LayoutGround,
  noJoint: readonly KeptClear[],
  order: readonly BoardRun['prefer'][],
): { pieces: Piece[]; met: KeptClear[] } {
  const ways = order.map((prefer) => {
    const { parts, met } = sliceUp(sidesOf(piece.rect), lengthMm, noJoint, prefer, settings);
    const pieces = parts.flatMap((part) => cutPieces(rectOf(part), piece.cutouts));
    return { pieces, met, narrow: pieces.filter((each) => isNarrow(each.rect, stock, settings)).length };
  });
  return ways.reduce((best, way) => (way.narrow < best.narrow ? way : best));
}

/** Cut-outs as far as they reach into a board. */
const clipCutouts = (cutouts: readonly WallRect[], rect: WallRect): WallRect[] => {
  const { bottom, top } = sidesOf(rect);
  return cutouts.flatMap((cutout) => {
    const sides = sidesOf(cutout);
    const held = { ...sides, bottom: Math.max(sides.bottom, bottom), top: Math.min(sides.top, top) };
    return held.top > held.bottom ? [rectOf(held)] : [];
  });
};

/** The boards of one column: what the openings leave of it, cut to the stock's length, ends following floor and ceiling. */
function boardColumn(column: Sides, k: number, ground: LayoutGround) {
  const { wall, frame, openings, stock, settings } = ground;
  const floor = rangeOf(frame.floor, column.left, column.right).lowest;
  const top = rangeOf(frame.ceiling, column.left, column.right).highest;
  const lengthMm = longestAt(column.right - column.left, stock);
  const widerMm = widenFloorGap(top - floor - lengthMm, {
    ...settings,
    floorGapMm: settings.floorGapMm + frame.widerMm,
  });
  const lines = { floor: raiseLine(frame.floor, widerMm), ceiling: frame.ceiling };
  const rect = rectOf({ ...column, bottom: floor + widerMm, top });
  const order = k % 2 === 0 ? (['late', 'early'] as const) : (['early', 'late'] as const);
  const met: KeptClear[] = [];
  let tall = 0;
  const pieces =
    rect.height <= closeMm
      ? []
      : cutPieces(rect, [...openings, ...wall.boxes]).flatMap((piece) => {
          const fitted = fitBetween(piece.rect, lines);
          if (!fitted || fitted.rect.height <= lengthMm + closeMm) return [piece];
          tall++;
          const noJoint = listKeptClear(wall, openings, sidesOf(piece.rect), 'up', settings);
          const cut = cutToLength({ ...piece, rect: fitted.rect }, lengthMm, ground, noJoint, order);
          met.push(...cut.met);
          return cut.pieces;
        });
  const boards = pieces.flatMap((piece): LaidBoard[] => {
    const fitted = fitBetween(piece.rect, lines);
    if (!fitted) return [];
    const cutouts = clipCutouts(piece.cutouts, fitted.rect);
    return [{ ...fitted, cutouts, isNarrow: isNarrow(fitted.rect, stock, settings) }];
  });
  return { boards, met, tall, isWider: widerMm > 0 };
}

/** One choice of joints for each bay, made into boards from the left, upwards. */
export function layBoards(
  bays: readonly { readonly sides: Sides; readonly noJoint: readonly KeptClear[] }[],
  joints: readonly (readonly number[])[],
  ground: LayoutGround,
): Layout {
  const { frame } = ground;
  const parted = bays.map(({ sides, noJoint }, k) => partFrame(sides, 'along', joints[k]!, noJoint));
  const columns = parted.flatMap(({ parts }) => parts).map((column, k) => boardColumn(column, k, ground));
  const met = [...parted, ...columns].flatMap((each) => each.met);
  const boards = columns.flatMap((column) => column.boards);
  const warnings = new Map<string, Warning>();
  if (columns.some(({ tall }) => tall > 0))
    warnings.set('short', { code: 'board_too_short', subject: 'wall' });
  if (frame.widerMm > 0 || columns.some(({ isWider }) => isWider))
    warnings.set('gap', { code: 'floor_gap_wide', subject: 'wall' });
  for (const { warning } of met) warnings.set(`${warning.code} ${warning.subject}`, warning);
  const faults =
    met.reduce((sum, { cost }) => sum + cost, 0) +
    columns.reduce((sum, { tall }) => sum + tall, 0) +
    boards.filter((board) => board.isNarrow).length;
  return { boards, faults, warnings: [...warnings.values()] };
}
