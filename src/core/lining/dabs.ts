import type { Board, BoardDabs } from '../results.ts';
import type { LiningSettings } from './defaults.ts';
import { sidesOf } from './rects.ts';

/**
 * Widest spacing (mm) of dab columns behind a board.
 * Source: UK specification clause after BS 8212: 9.5 mm board 1200 wide 400, board 900 wide 450, 12.5 mm board 1200 wide
 * 600 (thicker board the same, from memory).
 * @example dabColumnMm(1200, 12.5) // 600
 */
export function dabColumnMm(boardWidthMm: number, thicknessMm: number): number {
  if (thicknessMm >= 12) return boardWidthMm > 900 ? 600 : 450;
  return boardWidthMm > 900 ? 400 : 450;
}

/**
 * Adhesive (L) in a dab that is pressed to a footprint (mm2) on a bed (mm): a dab of the same size spreads over half as
 * much where the bed is twice as deep.
 * @example dabVolumeL(37500, 10) // 0.375
 */
export function dabVolumeL(footprintMm2: number, bedMm: number): number {
  return (footprintMm2 * bedMm) / 1e6;
}

/**
 * Pressed footprint (mm2) of each of `count` dabs so that they and the continuous strip cover `share` of the board.
 * @example dabFootprintMm2(2880000, 0.125, 24, 0) // 15000
 */
export function dabFootprintMm2(areaMm2: number, share: number, count: number, stripMm2: number): number {
  return count > 0 ? Math.max(0, share * areaMm2 - stripMm2) / count : 0;
}

/** The continuous strip along the bottom edge (mm2) of a board that stands at the floor, as long as that edge is board. */
function measureStrip(board: Board, settings: LiningSettings): number {
  if (board.up > settings.floorGapMostMm) return 0;
  const bottom = board.up + settings.dabEdgeMm;
  const cut = board.cutouts.filter(({ up, height }) => up <= bottom && up + height > bottom);
  const width = board.width - 2 * settings.dabEdgeMm - cut.reduce((sum, each) => sum + each.width, 0);
  return Math.max(0, width) * Math.min(settings.stripWidthMm, board.height);
}

/**
 * The dabs behind one board: columns at both edges and between, rows from the top edge down to the continuous strip at
 * the bottom, each as large as its share of the contact asks for at the board's mean bed. A small board, whose dabs would
 * come out under the least footprint, has none: its strip carries it.
 * `boardWidthMm`: the stock board's width, which sets the columns; `areaMm2`: the board without its cut-outs.
 */
export function planDabs(
  board: Board,
  stock: { readonly width: number; readonly thickness: number },
  areaMm2: number,
  meanBedMm: number,
  settings: LiningSettings,
): BoardDabs {
  const inset = 2 * settings.dabEdgeMm;
  const spacing = dabColumnMm(stock.width, stock.thickness);
  const columns = Math.max(1, Math.ceil((board.width - 2 * inset) / spacing - 1e-9) + 1);
  const lowest = settings.dabEdgeMm + settings.stripWidthMm;
  const rows = Math.max(1, Math.ceil((board.height - inset - lowest) / settings.dabRowMm - 1e-9));
  const cutouts = board.cutouts.map(sidesOf);
  let count = 0;
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      const along =
        board.along +
        (columns === 1 ? board.width / 2 : inset + (i * (board.width - 2 * inset)) / (columns - 1));
      const up = board.up + board.height - inset - j * settings.dabRowMm;
      const isCut = cutouts.some(
        ({ left, right, bottom, top }) => along > left && along < right && up > bottom && up < top,
      );
      if (!isCut) count++;
    }
  }
  const footprintMm2 = dabFootprintMm2(areaMm2, settings.coverageShare, count, measureStrip(board, settings));
  if (footprintMm2 < settings.dabLeastMm2)
    return { columns: 0, rows: 0, count: 0, footprintMm2: 0, volumeL: 0 };
  return { columns, rows, count, footprintMm2, volumeL: dabVolumeL(footprintMm2, meanBedMm) };
}
