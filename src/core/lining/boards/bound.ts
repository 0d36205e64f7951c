import type { StockSize } from '../../survey.ts';
import { closeMm, type PieceKind } from './pieceKind.ts';

/** A function of a share of the sheet's side whose sum over pieces side by side never exceeds 1. */
type Scale = (share: number) => number;

const close = 1e-9;

/** Shares over 1 - least count whole, those under `least` not at all. */
const scaleBig =
  (least: number): Scale =>
  (share) =>
    share > 1 - least + close ? 1 : share < least - close ? 0 : share;

/** Shares rounded down to multiples of 1 / k, as of boards that hold no more than k. */
const scaleSteps =
  (k: number): Scale =>
  (share) => {
    const steps = (k + 1) * share;
    return Math.abs(steps - Math.round(steps)) <= close ? share : Math.floor(steps) / k;
  };

/**
 * A count of stock boards that no cutting of the pieces can be below, whatever its cuts: their areas, with sides scaled so
 * that the sum over any one board stays within it.
 * Source: S. P. Fekete, J. Schepers, New classes of lower bounds for bin packing problems, Mathematical Programming 91
 * (2001), 11-31 (functions u and U), from memory.
 * @example boundSheets([{ width: 700, length: 1300, mayTurn: false, wants: 0, items: [1, 2, 3] }], [{ width: 1200, length: 2400 }]) // 3
 */
export function boundSheets(
  kinds: readonly (Omit<PieceKind, 'items'> & { readonly items: readonly unknown[] })[],
  stock: readonly StockSize[],
): number {
  const widthMm = Math.max(...stock.map(({ width }) => width));
  const lengthMm = Math.max(...stock.map(({ length }) => length));
  const scalesOf = (shares: readonly number[]): Scale[] => [
    (share) => share,
    ...[1, 2, 3, 4].map(scaleSteps),
    ...[...new Set(shares.map((share) => Math.min(share, 1 - share)))]
      .filter((share) => share > close && share <= 0.5)
      .slice(0, 12)
      .map(scaleBig),
    scaleBig(0.5),
  ];
  const across = scalesOf(
    kinds.flatMap(({ width }) => (width <= widthMm + closeMm ? [width / widthMm] : [])),
  );
  const along = scalesOf(
    kinds.flatMap(({ length }) => (length <= lengthMm + closeMm ? [length / lengthMm] : [])),
  );
  let best = 0;
  for (const f of across)
    for (const g of along) {
      const sum = kinds.reduce((total, { width, length, mayTurn, items }) => {
        const lying = (x: number, y: number) =>
          x <= widthMm + closeMm && y <= lengthMm + closeMm
            ? f(Math.min(1, x / widthMm)) * g(Math.min(1, y / lengthMm))
            : Infinity;
        const upright = lying(width, length);
        return total + items.length * (mayTurn ? Math.min(upright, lying(length, width)) : upright);
      }, 0);
      best = Math.max(best, sum);
    }
  return Math.ceil(best - 1e-6);
}
