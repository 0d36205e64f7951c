import type { CuttingPlan, RevealBoard, StockSheet, StripCut } from '../../liningPlan.ts';
import type { Warning } from '../../refusal.ts';
import type { Board } from '../../results.ts';
import type { Lining } from '../../survey.ts';
import type { LiningSettings } from '../defaults.ts';
import type { ProgrammeSolver } from '../programme.ts';
import { cutItems, findBoundEdges, type CutEffort } from './cutting.ts';
import { listBoardItems } from './joins.ts';
import type { LaidPiece, LaidSheet } from './laidSheet.ts';
import { boardM2 } from './lifting.ts';
import { closeMm, fitsSize, listStock, type CutItem } from './pieceKind.ts';

/** Everything to cut for a wall: its boards, the boards of reveals, and strips for packing. */
export interface CutList {
  readonly boards: readonly Board[];
  readonly reveals: readonly RevealBoard[];
  readonly packing: readonly StripCut[];
}

/** First what is quick; harder only where the fewest sheets are not proven by that. */
const efforts: readonly CutEffort[] = [
  { choicesMost: 240, nodesMost: 50 },
  { choicesMost: 450, nodesMost: 50 },
];

/** The id that all packing strips share. */
const packingId = 'packing';

const loose = { mayTurn: true, joints: { left: false, right: false } };

/** Reveal boards and packing strips as items to cut: they may lie either way on the stock. */
export function listLooseItems(reveals: readonly RevealBoard[], packing: readonly StripCut[]): CutItem[] {
  return [
    ...reveals.map(({ id, width, length }) => ({ ...loose, id, width, length })),
    ...packing.flatMap(({ widthMm, lengthMm, count }) =>
      Array.from({ length: count }, () => ({ ...loose, id: packingId, width: widthMm, length: lengthMm })),
    ),
  ];
}

/**
 * Whether pieces side by side, or one over the other, take up so much that a stock board at its smallest would be short; but
 * for rows with packing strips, of which nobody misses a few millimetres.
 */
function isTight({ pieces, stock }: LaidSheet, settings: LiningSettings): boolean {
  const over = (from: (piece: LaidPiece) => number, size: (piece: LaidPiece) => number) => (at: number) =>
    pieces.filter((piece) => from(piece) <= at + closeMm && from(piece) + size(piece) > at + closeMm);
  const [atX, atY] = [
    over(
      ({ x }) => x,
      ({ width }) => width,
    ),
    over(
      ({ y }) => y,
      ({ length }) => length,
    ),
  ];
  const counts = (row: readonly LaidPiece[]) =>
    row.length > 1 && row.every(({ item }) => item.id !== packingId);
  const width = stock.width - settings.boardWidthUnderMm + closeMm;
  const length = stock.length - settings.boardLengthUnderMm + closeMm;
  return pieces.some(({ x, y }) => {
    const [row, column] = [atY(y), atX(x)];
    return (
      (counts(row) && row.reduce((sum, piece) => sum + piece.width, 0) > width) ||
      (counts(column) && column.reduce((sum, piece) => sum + piece.length, 0) > length)
    );
  });
}

const writeSheet = ({ stock, pieces, offcuts, cuts }: LaidSheet, k: number): StockSheet => ({
  id: `S${k + 1}`,
  width: stock.width,
  length: stock.length,
  pieces: pieces.map(({ item, x, y, width, length, turn }) => ({
    piece: item.id,
    x,
    y,
    width,
    length,
    turn,
  })),
  offcuts: [...offcuts].sort((a, b) => b.width * b.height - a.width * a.height),
  cuts,
});

/** Counts stock boards by size, in the order of the stock on hand. */
function countStock(sheets: readonly StockSheet[], lining: Lining): CuttingPlan['stock'] {
  return listStock(lining).flatMap(({ width, length }) => {
    const count = sheets.filter((sheet) => sheet.width === width && sheet.length === length).length;
    return count > 0 ? [{ width, length, count }] : [];
  });
}

/**
 * How everything is cut from the stock (`cutItems`), and the boards with the stock board each comes from and its bound and
 * cut edges. Sheets are numbered in the order of the boards they give. What fits no stock board is warned of and left out.
 */
export function planCutting(
  { boards, reveals, packing }: CutList,
  lining: Lining,
  settings: LiningSettings,
  solve: ProgrammeSolver,
): { boards: Board[]; cutting: CuttingPlan; warnings: Warning[] } {
  const stock = listStock(lining);
  const all = [...listBoardItems(boards, (k) => boards[k]!.id), ...listLooseItems(reveals, packing)];
  const items = all.filter((item) => stock.some((size) => fitsSize(item, size)));
  const misfits = all.filter((item) => !items.includes(item));
  const { sheets: laid, sheetsLeast } = cutItems(items, stock, solve, efforts);
  const rankOf = ({ pieces }: LaidSheet) => Math.min(...pieces.map(({ item }) => items.indexOf(item)));
  const ordered = [...laid].sort((a, b) => rankOf(a) - rankOf(b));
  const sheets = ordered.map(writeSheet);
  const stockM2 = sheets.reduce((sum, { width, length }) => sum + (width * length) / 1e6, 0);
  const looseM2 = items.reduce((sum, item) => sum + (item.mayTurn ? (item.width * item.length) / 1e6 : 0), 0);
  const isCut = new Set(items.map(({ id }) => id));
  const usedM2 = boards.reduce((sum, board) => sum + (isCut.has(board.id) ? boardM2(board) : 0), looseM2);
  const warnings: Warning[] = [...new Set(misfits.map(({ id }) => id))].map((subject) => ({
    code: 'board_not_in_stock',
    subject,
  }));
  const spare = sheets.length - sheetsLeast;
  if (spare > 0) warnings.push({ code: 'cutting_not_proven', subject: 'wall', count: spare });
  ordered.forEach((sheet, k) => {
    if (isTight(sheet, settings)) warnings.push({ code: 'sheet_tight', subject: sheets[k]!.id });
  });
  return {
    boards: boards.map((board) => {
      const k = sheets.findIndex(({ pieces }) => pieces.some(({ piece }) => piece === board.id));
      if (k < 0) return board;
      const piece = ordered[k]!.pieces.find(({ item }) => item.id === board.id)!;
      const bound = findBoundEdges(piece, ordered[k]!.stock);
      return {
        ...board,
        sheet: sheets[k]!.id,
        edges: { left: bound.left ? 'bound' : 'cut', right: bound.right ? 'bound' : 'cut' },
      };
    }),
    cutting: {
      sheets,
      stock: countStock(sheets, lining),
      cuts: sheets.reduce((sum, { cuts }) => sum + cuts, 0),
      wasteShare: stockM2 > 0 ? 1 - usedM2 / stockM2 : 0,
      sheetsLeast,
      proven: spare === 0,
    },
    warnings,
  };
}
