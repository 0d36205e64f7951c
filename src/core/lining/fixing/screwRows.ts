import type { LiningSettings } from '../defaults.ts';

/** Where rows and columns of gauge screws begin (mm from a board's edges). */
export interface Insets {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

/** `count` places from `first` to `last`, evenly. */
const spaceOut = (first: number, last: number, count: number) =>
  Array.from({ length: count }, (_, i) =>
    count === 1 ? (first + last) / 2 : first + ((last - first) * i) / (count - 1),
  );

/**
 * Columns of gauge screws across a board of that width (mm from its left edge): near both edges, and between so that none are further
 * apart than the settings say. `insets`: from its edges; a board too narrow for them takes the usual ones.
 */
export function spaceColumns(
  widthMm: number,
  settings: LiningSettings,
  insets: Pick<Insets, 'left' | 'right'> = { left: settings.screwEdgeMm, right: settings.screwEdgeMm },
): number[] {
  const { screwEdgeMm, screwEdgeLeastMm, screwApartMm, screwColumnMm } = settings;
  if (widthMm < 2 * screwEdgeLeastMm) return [];
  if (widthMm - 2 * screwEdgeMm < screwApartMm) return [widthMm / 2];
  const isRoom = widthMm - insets.left - insets.right >= screwApartMm;
  const { left, right } = isRoom ? insets : { left: screwEdgeMm, right: screwEdgeMm };
  const gaps = Math.max(1, Math.ceil((widthMm - left - right) / screwColumnMm - 1e-9));
  return spaceOut(left, widthMm - right, gaps + 1);
}

/**
 * Rows of gauge screws up a board of that height (mm from its bottom edge): 500-600 mm apart where the height allows it, with the
 * insets left at the ends; more where that saves a row, less where only that keeps the rows apart.
 */
export function spaceRows(
  heightMm: number,
  settings: LiningSettings,
  insets: Pick<Insets, 'bottom' | 'top'> = { bottom: settings.screwEndMm, top: settings.screwEndMm },
): number[] {
  const { screwEdgeMm, screwEdgeLeastMm, screwApartMm, screwRowLeastMm, screwRowMostMm } = settings;
  if (heightMm < 2 * screwEdgeLeastMm) return [];
  if (heightMm < 2 * screwEdgeMm + screwApartMm) return [heightMm / 2];
  const usual = heightMm - insets.bottom - insets.top;
  const sparesMm = 2 * Math.max(0, settings.screwEndMostMm - settings.screwEndMm);
  const gaps = Math.max(1, Math.ceil((usual - sparesMm) / screwRowMostMm - 1e-9));
  const least = Math.max(screwApartMm, Math.min(screwRowLeastMm, (heightMm - 2 * screwEdgeMm) / gaps));
  const apart = Math.max(Math.min(screwRowMostMm, usual / gaps), least);
  const spare = heightMm - insets.bottom - insets.top - gaps * apart;
  const most = heightMm - gaps * apart - screwEdgeMm;
  const first = Math.min(Math.max(insets.bottom + spare / 2, screwEdgeMm), Math.max(most, screwEdgeMm));
  return spaceOut(first, first + gaps * apart, gaps + 1);
}
