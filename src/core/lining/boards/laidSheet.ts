import type { StockSize, WallRect } from '../../survey.ts';
import { arrangeRow, type RowMember } from './arrange.ts';
import type { Bar, BarPart } from './bars.ts';
import type { CutCounts } from './cutProgramme.ts';
import { closeMm, type CutItem, type PieceKind } from './pieceKind.ts';

/** An item on a stock board, from the board's lower left corner, its size as it lies there (mm). */
export interface LaidPiece {
  readonly item: CutItem;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly length: number;
  /** By how much it is turned against how it will hang (degrees). */
  readonly turn: 0 | 90 | 180;
}

/** A stock board with what is cut from it and what is left. */
export interface LaidSheet {
  readonly stock: StockSize;
  readonly pieces: readonly LaidPiece[];
  readonly offcuts: readonly WallRect[];
  readonly cuts: number;
}

type End = RowMember['end'];

const endOf = ({ joints }: CutItem): End =>
  joints.left ? (joints.right ? 'either' : 'left') : joints.right ? 'right' : null;

/** A bar whose parts have got their items. */
interface FilledBar {
  readonly bar: Bar;
  readonly items: readonly CutItem[];
}

/** Lays an item down; turned half round where its bound edge would else be on the wrong side. */
function layPiece(item: CutItem, part: BarPart, rect: WallRect, stockWidthMm: number): LaidPiece {
  const { along: x, up: y, width, height: length } = rect;
  const atLeft = x <= closeMm;
  const atRight = x + width >= stockWidthMm - closeMm;
  const end = endOf(item);
  const isWrong = (end === 'left' && atRight && !atLeft) || (end === 'right' && atLeft && !atRight);
  return { item, x, y, width, length, turn: part.turned ? 90 : isWrong ? 180 : 0 };
}

const rect = (along: number, up: number, width: number, height: number): WallRect => ({
  along,
  up,
  width,
  height,
});
const isReal = ({ width, height }: WallRect) => width > closeMm && height > closeMm;

/** A strip from the floor of the stock board up, its trims on the inner side. */
function layStrip({ bar, items }: FilledBar, x: number, stock: StockSize) {
  const atLeft = x <= closeMm;
  const atRight = x + bar.sizeMm >= stock.width - closeMm;
  const pieces: LaidPiece[] = [];
  const offcuts: WallRect[] = [];
  let y = 0;
  bar.parts.forEach((part, k) => {
    const item = items[k]!;
    const trim = bar.sizeMm - part.across;
    const toRight = atRight && (!atLeft || endOf(item) === 'right');
    const left = toRight ? x + trim : x;
    pieces.push(layPiece(item, part, rect(left, y, part.across, part.along), stock.width));
    offcuts.push(rect(toRight ? x : x + part.across, y, trim, part.along));
    y += part.along;
  });
  offcuts.push(rect(x, y, bar.sizeMm, stock.length - y));
  return { pieces, offcuts };
}

/** A length of the stock board, its pieces side by side, the trims over them. */
function layLength({ bar, items }: FilledBar, y: number, stock: StockSize) {
  const row = arrangeRow(
    bar.parts.map((part, k) => ({ sizeMm: part.along, end: endOf(items[k]!) })),
    stock.width,
  );
  const pieces = bar.parts.map((part, k) =>
    layPiece(items[k]!, part, rect(row.starts[k]!, y, part.along, part.across), stock.width),
  );
  const offcuts = bar.parts.map((part, k) =>
    rect(row.starts[k]!, y + part.across, part.along, bar.sizeMm - part.across),
  );
  if (row.gap) offcuts.push(rect(row.gap.fromMm, y, row.gap.sizeMm, bar.sizeMm));
  return { pieces, offcuts };
}

function laySheet(bars: readonly FilledBar[], stock: StockSize, firstCuts: number): LaidSheet {
  const isRip = bars[0]!.bar.order === 'rip';
  const row = arrangeRow(
    bars.map(({ bar, items }) => {
      const ends = items.map(endOf);
      const count = (of: End) => ends.filter((end) => end === of).length;
      const like =
        count('left') > count('right') ? 'left' : count('left') < count('right') ? 'right' : 'either';
      return { sizeMm: bar.sizeMm, end: isRip && bar.edges === 1 ? like : null };
    }),
    isRip ? stock.width : stock.length,
  );
  const laid = bars.map((bar, k) =>
    isRip ? layStrip(bar, row.starts[k]!, stock) : layLength(bar, row.starts[k]!, stock),
  );
  const offcuts = laid.flatMap((each) => each.offcuts);
  if (row.gap)
    offcuts.push(
      isRip
        ? rect(row.gap.fromMm, 0, row.gap.sizeMm, stock.length)
        : rect(0, row.gap.fromMm, stock.width, row.gap.sizeMm),
    );
  return {
    stock,
    pieces: laid.flatMap((each) => each.pieces),
    offcuts: offcuts.filter(isReal),
    cuts: firstCuts + bars.reduce((sum, { bar }) => sum + bar.cuts, 0),
  };
}

const repeat = <T>(pairs: readonly (readonly [T, number])[]): T[] =>
  pairs.flatMap(([value, count]) => Array.from({ length: count }, () => value));

/** The stock boards of a solved cutting, each piece in its place. */
export function laySheets(kinds: readonly PieceKind[], counts: readonly CutCounts[]): LaidSheet[] {
  const waiting = kinds.map(({ items }) => [...items]);
  const sheets: LaidSheet[] = [];
  for (const { bars, firstCuts, choices } of counts) {
    const left = repeat(bars);
    const take = (sizeMm: number, edgeFirst: boolean): FilledBar => {
      const own = [...left.keys()].filter((k) => Math.abs(left[k]!.sizeMm - sizeMm) <= closeMm);
      const isEdge = (k: number) => left[k]!.order === 'rip' && left[k]!.edges === 1;
      const at = own.find((k) => isEdge(k) === edgeFirst) ?? own[0];
      if (at === undefined) throw new Error(`expected a bar of ${sizeMm} mm, got none`);
      const bar = left.splice(at, 1)[0]!;
      return { bar, items: bar.parts.map(({ kind }) => waiting[kind]!.shift()!) };
    };
    for (const cuts of repeat(firstCuts)) {
      const own = choices.sizes.flatMap(({ sizeMm }, k) =>
        Array.from({ length: cuts.counts[k]! }, (_, n) => take(sizeMm, n < cuts.edges[k]!)),
      );
      sheets.push(laySheet(own, choices.stock, cuts.cuts));
    }
  }
  return sheets;
}
