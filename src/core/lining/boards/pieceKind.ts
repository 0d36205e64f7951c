import type { Lining, StockSize } from '../../survey.ts';

/** Sizes nearer than this are one size (mm). */
export const closeMm = 1e-6;

/** A rectangle to cut out of the stock, as it will hang (mm). */
export interface CutItem {
  readonly id: string;
  readonly width: number;
  readonly length: number;
  /** May lie across the stock board; boards may not, for their bound edges and paper run along it. */
  readonly mayTurn: boolean;
  /** Whether another board stands at its left and at its right edge: there the bound edge is wanted. */
  readonly joints: { readonly left: boolean; readonly right: boolean };
}

/** Items that are alike to the saw. `wants`: how many bound edges each wants. */
export interface PieceKind {
  readonly width: number;
  readonly length: number;
  readonly mayTurn: boolean;
  readonly wants: number;
  readonly items: readonly CutItem[];
}

const wantsOf = ({ joints }: CutItem) => Number(joints.left) + Number(joints.right);

/** Groups items that are alike to the saw, largest first. */
export function groupItems(items: readonly CutItem[]): PieceKind[] {
  const kinds: { kind: Omit<PieceKind, 'items'>; items: CutItem[] }[] = [];
  for (const item of items) {
    const { width, length, mayTurn } = item;
    const wants = wantsOf(item);
    const like = kinds.find(
      ({ kind }) =>
        Math.abs(kind.width - width) <= closeMm &&
        Math.abs(kind.length - length) <= closeMm &&
        kind.mayTurn === mayTurn &&
        kind.wants === wants,
    );
    if (like) like.items.push(item);
    else kinds.push({ kind: { width, length, mayTurn, wants }, items: [item] });
  }
  return kinds
    .map(({ kind, items: own }) => ({ ...kind, items: own }))
    .sort((a, b) => b.width * b.length - a.width * a.length || b.length - a.length || b.wants - a.wants);
}

/** The sizes of board on hand: the survey's board first, then the further sizes, none twice. */
export function listStock({ board, stock = [] }: Pick<Lining, 'board' | 'stock'>): StockSize[] {
  const sizes = [board, ...stock].map(({ width, length }) => ({ width, length }));
  return sizes.filter(
    (size, k) =>
      size.width > 0 &&
      size.length > 0 &&
      sizes.findIndex(({ width, length }) => width === size.width && length === size.length) === k,
  );
}

/**
 * Whether an item can be cut from a stock board.
 * @example fitsSize({ width: 150, length: 1300, mayTurn: true }, { width: 1200, length: 2400 }) // true
 */
export function fitsSize(
  { width, length, mayTurn }: Pick<CutItem, 'width' | 'length' | 'mayTurn'>,
  size: StockSize,
): boolean {
  const fits = (across: number, along: number) =>
    across <= size.width + closeMm && along <= size.length + closeMm;
  return fits(width, length) || (mayTurn && fits(length, width));
}
