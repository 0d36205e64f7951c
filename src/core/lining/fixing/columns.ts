import type { Board } from '../../results.ts';
import type { Lining } from '../../survey.ts';
import { dabColumnMm } from '../dabs.ts';
import type { LiningSettings } from '../defaults.ts';
import type { Span } from './spans.ts';

/** Columns of dabs behind a board: how many, how far apart their middles are, and how wide a dab may be at most (mm). */
export interface Columns {
  readonly count: number;
  readonly apartMm: number;
  readonly widthMostMm: number;
}

/**
 * Columns of dabs behind a board: one along each upright edge and as many between as the spacing of its type asks for; a single one
 * behind a board with no room for two, none behind one that is all edge.
 * Source: UK specification clause (after BS 8212).
 */
export function countColumns(
  { width }: Pick<Board, 'width'>,
  stock: Lining['board'],
  settings: LiningSettings,
): Columns {
  const { dabEdgeMm, dabWidthLeastMm, screwDabClearMm, packingWidthMm } = settings;
  const room = width - 2 * dabEdgeMm;
  const clear = 2 * screwDabClearMm;
  if (room <= 0) return { count: 0, apartMm: 0, widthMostMm: 0 };
  if (room < 2 * dabWidthLeastMm + clear) return { count: 1, apartMm: room, widthMostMm: room };
  const span = room - packingWidthMm;
  const spacing = dabColumnMm(stock.width, stock.thickness, settings);
  const gaps = Math.max(1, Math.ceil(span / spacing - 1e-9));
  const apartMm = span / gaps;
  // A dab at an edge grows away from it, one between to both sides.
  const widthMostMm =
    gaps === 1
      ? (room - clear) / 2
      : Math.min((packingWidthMm / 2 + apartMm - clear) / 1.5, gaps === 2 ? Infinity : apartMm - clear);
  return { count: gaps + 1, apartMm, widthMostMm };
}

/** The bands (mm along the wall) in which the columns of a board stand, each `widthMm` wide or as wide as there is room for. */
export function placeColumns(
  board: Pick<Board, 'along' | 'width'>,
  { count, apartMm, widthMostMm }: Columns,
  widthMm: number,
  { dabEdgeMm, packingWidthMm }: LiningSettings,
): Span[] {
  const wide = Math.min(widthMm, widthMostMm);
  const first = board.along + dabEdgeMm;
  const last = board.along + board.width - dabEdgeMm;
  if (count === 1) return [{ from: (first + last - wide) / 2, to: (first + last + wide) / 2 }];
  return Array.from({ length: count }, (_, k) => {
    if (k === 0) return { from: first, to: first + wide };
    if (k === count - 1) return { from: last - wide, to: last };
    const middle = first + packingWidthMm / 2 + k * apartMm;
    return { from: middle - wide / 2, to: middle + wide / 2 };
  });
}
