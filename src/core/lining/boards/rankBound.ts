import type { StockSize } from '../../survey.ts';
import { closeMm, type PieceKind } from './pieceKind.ts';

/** Sums looked at before a filling is taken to be possible. */
const sumsMost = 4000;

/** Whether some of these sizes, each as often as one likes, sum to just `roomMm`, `own` among them; true when in doubt. */
function canFill(own: number, sizes: readonly number[], roomMm: number): boolean {
  if (Math.abs(own - roomMm) <= closeMm) return true;
  const seen = new Set<number>();
  const waiting = [own];
  while (waiting.length > 0 && seen.size < sumsMost) {
    const sum = waiting.pop()!;
    for (const size of sizes) {
      const next = sum + size;
      const name = Math.round(next / closeMm);
      if (next > roomMm + closeMm || seen.has(name)) continue;
      if (next >= roomMm - closeMm) return true;
      seen.add(name);
      waiting.push(next);
    }
  }
  return seen.size >= sumsMost;
}

const distinct = (sizes: readonly number[]) =>
  [...sizes].sort((a, b) => b - a).filter((size, k, all) => k === 0 || all[k - 1]! - size > closeMm);

/**
 * A rank (`rankCutting`) that no cutting of the pieces from at least `sheets` stock boards can come before. Cuts: every cut makes two parts of one,
 * so there are as many as pieces and offcuts less the stock boards; a board has an offcut unless pieces fill its length
 * somewhere, and two unless they also fill its width somewhere.
 * @example boundRank([{ width: 600, length: 2400, mayTurn: false, wants: 1, items: [1] }], [{ width: 1200, length: 2600 }], 1) // [1, 3120000, 0, 2]
 */
export function boundRank(
  kinds: readonly (Omit<PieceKind, 'items'> & { readonly items: readonly unknown[] })[],
  stock: readonly StockSize[],
  sheets: number,
): readonly [number, number, number, number] {
  const least = Math.min(...stock.map(({ width, length }) => width * length));
  const widest = Math.max(...stock.map(({ width }) => width));
  const sizesOf = (own: (kind: (typeof kinds)[number]) => number, turned: typeof own) =>
    distinct(kinds.flatMap((kind) => (kind.mayTurn ? [own(kind), turned(kind)] : [own(kind)])));
  const widths = sizesOf(
    ({ width }) => width,
    ({ length }) => length,
  );
  const lengths = sizesOf(
    ({ length }) => length,
    ({ width }) => width,
  );
  const pieces = kinds.reduce((sum, { items }) => sum + items.length, 0);
  const joints = kinds.reduce(
    (sum, { wants, width, items }) => sum + (wants === 2 && width < widest - closeMm ? items.length : 0),
    0,
  );
  const fillsLength = lengths.some((own) => stock.some(({ length }) => canFill(own, lengths, length)));
  if (fillsLength) return [sheets, sheets * least, joints, Math.max(0, pieces - sheets)];
  // Boards with a row that fills their width: one piece of the whole width in each, or two at least of those that can.
  const countThose = (fits: (width: number, stockWidth: number) => boolean) =>
    kinds.reduce((sum, { width, length, mayTurn, items }) => {
      const own = mayTurn ? [width, length] : [width];
      return sum + (own.some((size) => stock.some((each) => fits(size, each.width))) ? items.length : 0);
    }, 0);
  const whole = countThose((width, stockWidth) => Math.abs(width - stockWidth) <= closeMm);
  const shared = countThose((width, stockWidth) => canFill(width, widths, stockWidth)) - whole;
  const twice = Math.max(0, sheets - whole - Math.floor(shared / 2));
  return [sheets, sheets * least, joints, pieces + twice];
}
