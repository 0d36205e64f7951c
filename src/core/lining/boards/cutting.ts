import type { StockSize } from '../../survey.ts';
import type { ProgrammeSolver } from '../programme.ts';
import { boundSheets } from './bound.ts';
import { listCutChoices, solveCutting, type CutSolution } from './cutProgramme.ts';
import { fillOffcuts } from './fillOffcuts.ts';
import { laySheets, type LaidPiece, type LaidSheet } from './laidSheet.ts';
import { closeMm, groupItems, type CutItem, type PieceKind } from './pieceKind.ts';

/** How hard to try: choices to list, and nodes of the search. */
export interface CutEffort {
  readonly choicesMost: number;
  readonly nodesMost: number;
}

/** Items cut from stock boards; `sheetsLeast`: what no other such cutting can be below. */
export interface Cutting {
  readonly sheets: readonly LaidSheet[];
  readonly sheetsLeast: number;
}

/** Which upright edges of a piece, as it will hang, are the stock board's own. */
export function findBoundEdges(
  { x, width, turn }: Pick<LaidPiece, 'x' | 'width' | 'turn'>,
  stock: StockSize,
): { left: boolean; right: boolean } {
  const atLeft = turn !== 90 && x <= closeMm;
  const atRight = turn !== 90 && x + width >= stock.width - closeMm;
  return turn === 180 ? { left: atRight, right: atLeft } : { left: atLeft, right: atRight };
}

/** Edges that will stand at a joint and are cut. */
function countCutJoints({ sheets }: Cutting): number {
  let count = 0;
  for (const { pieces, stock } of sheets)
    for (const piece of pieces) {
      const bound = findBoundEdges(piece, stock);
      if (piece.item.joints.left && !bound.left) count++;
      if (piece.item.joints.right && !bound.right) count++;
    }
  return count;
}

/** What a cutting is judged by, most important first: sheets, stock area (mm2), cut edges at joints, cuts. */
export function rankCutting(cutting: Cutting): readonly [number, number, number, number] {
  const { sheets } = cutting;
  const area = sheets.reduce((sum, { stock }) => sum + stock.width * stock.length, 0);
  return [sheets.length, area, countCutJoints(cutting), sheets.reduce((sum, { cuts }) => sum + cuts, 0)];
}

/** Whether `a` comes before `b`, compared number by number. */
export function isBefore(a: readonly number[], b: readonly number[]): boolean {
  for (let k = 0; k < a.length; k++) if (Math.abs(a[k]! - b[k]!) > closeMm) return a[k]! < b[k]!;
  return false;
}

/** As many of the largest kinds as can be searched exactly, cut; the rest filled in. */
function cutLargest(
  kinds: readonly PieceKind[],
  take: number,
  stock: readonly StockSize[],
  solve: ProgrammeSolver,
  effort: CutEffort,
): { sheets: LaidSheet[]; solution: CutSolution | null; taken: number } {
  for (let taken = take; taken > 0; taken--) {
    const own = kinds.slice(0, taken);
    const choices = listCutChoices(own, stock, effort.choicesMost);
    if (!choices) continue;
    const solution = solveCutting(own, choices, solve, effort.nodesMost);
    const rest = kinds.slice(solution ? taken : 0).flatMap(({ items }) => items);
    const laid = solution ? laySheets(own, solution.counts) : [];
    return { sheets: fillOffcuts(laid, rest, stock), solution, taken };
  }
  const all = kinds.flatMap(({ items }) => items);
  return { sheets: fillOffcuts([], all, stock), solution: null, taken: 0 };
}

/** The better of two ways: all kinds at once, or boards first and the small pieces out of what those leave. */
function cutBothWays(
  kinds: readonly PieceKind[],
  floor: number,
  stock: readonly StockSize[],
  solve: ProgrammeSolver,
  effort: CutEffort,
): Cutting {
  const whole = cutLargest(kinds, kinds.length, stock, solve, effort);
  const found: Cutting = {
    sheets: whole.sheets,
    sheetsLeast: Math.min(whole.sheets.length, Math.max(floor, whole.solution?.sheetsLeast ?? 0)),
  };
  // Out of what the boards leave, small pieces may take cuts of more than two stages, at times a sheet fewer.
  const upright = kinds.filter(({ mayTurn }) => !mayTurn);
  const small = kinds.filter(({ mayTurn }) => mayTurn);
  if (found.sheets.length === found.sheetsLeast || small.length === 0 || upright.length === 0) return found;
  const boards = cutLargest([...upright, ...small], upright.length, stock, solve, effort);
  const other: Cutting = {
    sheets: boards.sheets,
    sheetsLeast: Math.min(boards.sheets.length, found.sheetsLeast),
  };
  return isBefore(rankCutting(other), rankCutting(found)) ? other : found;
}

/**
 * Cuts items from stock boards: fewest boards, then the least of their area, then the fewest cut edges at joints, then the
 * fewest cuts. Exact over two-stage cuttings while the choices can be listed; beyond that the largest pieces are cut
 * exactly and the small ones from what is left, and `sheetsLeast` says how far that may be from the best.
 * Every item must fit some stock board. Source: DEVELOPERS.md, "From surface to lining".
 */
export function cutItems(
  items: readonly CutItem[],
  stock: readonly StockSize[],
  solve: ProgrammeSolver,
  efforts: readonly CutEffort[],
): Cutting {
  const kinds = groupItems(items);
  let best: Cutting | null = kinds.length === 0 ? { sheets: [], sheetsLeast: 0 } : null;
  const floor = boundSheets(kinds, stock);
  for (const effort of efforts) {
    if (best && best.sheets.length === best.sheetsLeast) break;
    const found = cutBothWays(kinds, floor, stock, solve, effort);
    const sheetsLeast = Math.max(found.sheetsLeast, best?.sheetsLeast ?? 0);
    const better = best && !isBefore(rankCutting(found), rankCutting(best)) ? best : found;
    best = { sheets: better.sheets, sheetsLeast: Math.min(sheetsLeast, better.sheets.length) };
  }
  return best!;
}
