import type { Warning } from '../refusal.ts';
import type { Board } from '../results.ts';
import type { Lining, Wall } from '../survey.ts';
import { boardedFrame, findBays, trimOpenings } from './bays.ts';
import type { LiningSettings } from './defaults.ts';
import { listKeptClear, sliceFrame, type Axis, type KeptClear } from './keptClear.ts';
import type { BoardRun } from './joints.ts';
import { cutPieces, type Piece } from './pieces.ts';
import { rectOf, sidesOf, type Sides } from './rects.ts';

export interface BoardPlan {
  readonly boards: readonly Board[];
  readonly warnings: readonly Warning[];
}

/** Names of boards from the left: A, B, ... without I and O, which read as figures; AA after Z. */
function nameBoard(index: number): string {
  const letters = 'ABCDEFGHJKLMNPQRSTUVWXYZ';
  const letter = letters[index % letters.length]!;
  return index < letters.length ? letter : nameBoard(Math.floor(index / letters.length) - 1) + letter;
}

/** Too narrow for two columns of dabs, or too low for one row. */
const isNarrow = ({ rect }: Piece, stock: Lining['board'], settings: LiningSettings) =>
  rect.width < Math.min(settings.minStripMm, stock.width / 2) - 1e-6 ||
  rect.height < 2 * settings.leastPieceMm;

/** Cuts a piece taller than the stock: the short part on top or at the floor, whichever leaves fewer narrow pieces. */
function cutToLength(
  piece: Piece,
  stock: Lining['board'],
  settings: LiningSettings,
  noJoint: readonly KeptClear[],
  order: readonly BoardRun['prefer'][],
): { pieces: Piece[]; met: KeptClear[] } {
  const ways = order.map((prefer) => {
    const { parts, met } = sliceFrame(sidesOf(piece.rect), 'up', stock.length, noJoint, prefer, settings);
    const pieces = parts.flatMap((part) => cutPieces(rectOf(part), piece.cutouts));
    return { pieces, met, narrow: pieces.filter((each) => isNarrow(each, stock, settings)).length };
  });
  return ways.reduce((best, way) => (way.narrow < best.narrow ? way : best));
}

/**
 * Upright boards over the lined part of the wall, from the left: joints kept clear of the corner lines of openings and of
 * boxes where that can be, no strip under the minimum where that can be, openings and boxes cut out. A board that an
 * opening cuts through becomes one above and one below. Where the stock is shorter than the wall by more than the floor gap
 * can take (`floor_gap_wide`), a cut piece goes on top, in every second column at the floor so that the level joints do not meet, with the warning `board_too_short`.
 */
export function planBoards(wall: Wall, stock: Lining['board'], settings: LiningSettings): BoardPlan {
  const frame = boardedFrame(wall, settings, stock.length);
  const openings = trimOpenings(wall, frame, settings.leastPieceMm);
  const keep = (part: Sides, axis: Axis) => listKeptClear(wall, openings, part, axis, settings);
  const bays = findBays(frame, openings).map((bay) =>
    sliceFrame(bay, 'along', stock.width, keep(bay, 'along'), 'balanced', settings),
  );
  const columns = bays.flatMap(({ parts }) => parts);
  const whole = columns.flatMap((column, k) =>
    cutPieces(rectOf(column), [...openings, ...wall.boxes]).map((piece) => ({
      piece,
      order: k % 2 === 0 ? (['late', 'early'] as const) : (['early', 'late'] as const),
      isTall: piece.rect.height > stock.length + 1e-6,
    })),
  );
  const cut = whole.map(({ piece, order, isTall }) =>
    isTall
      ? cutToLength(piece, stock, settings, keep(sidesOf(piece.rect), 'up'), order)
      : { pieces: [piece], met: [] },
  );
  const pieces = cut.flatMap((each) => each.pieces);
  const boards = pieces.map(({ rect, cutouts }, k): Board => ({
    id: nameBoard(k),
    ...rect,
    cutouts,
    outline: null,
    edges: { left: 'bound', right: 'bound' },
    holes: [],
    sheet: '',
    massKg: 0,
    persons: 1,
  }));
  const warnings = new Map<string, Warning>();
  if (whole.some(({ isTall }) => isTall)) warnings.set('short', { code: 'board_too_short', subject: 'wall' });
  if (frame.bottom > settings.floorGapMm) warnings.set('gap', { code: 'floor_gap_wide', subject: 'wall' });
  for (const { warning } of [...bays, ...cut].flatMap(({ met }) => met))
    warnings.set(`${warning.code} ${warning.subject}`, warning);
  pieces.forEach((piece, k) => {
    const { id } = boards[k]!;
    if (isNarrow(piece, stock, settings)) warnings.set(`narrow ${id}`, { code: 'strip_narrow', subject: id });
  });
  return { boards, warnings: [...warnings.values()] };
}
