import type { Lining, StockSize, Survey } from '../../core/survey.ts';
import { lengthText, type Units } from '../units.ts';

/** Sizes of board that the trade sells, by width (mm). */
export interface SizeGroup {
  readonly width: number;
  readonly lengths: readonly number[];
}

const inch = 25.4;
const foot = 12 * inch;

/**
 * What to pick a board size from. Metric: 600, 900, 1200 and 1250 wide, 1800 to 3600 long, as sold in Europe; inch: 48 and 54 in wide, 8 to 14 ft long, as
 * sold in North America (lengths of one makers' list read, the rest from memory).
 */
export const sizeGroups: Readonly<Record<Units, readonly SizeGroup[]>> = {
  mm: [
    { width: 600, lengths: [1800, 2000, 2400, 2500, 2600, 3000] },
    { width: 900, lengths: [1800, 2100, 2400, 2700, 3000] },
    { width: 1200, lengths: [1800, 2000, 2400, 2500, 2600, 2700, 3000, 3300, 3600] },
    { width: 1250, lengths: [2000, 2500, 2600, 2750, 3000] },
  ],
  inch: [48, 54].map((wide) => ({
    width: wide * inch,
    lengths: [8, 9, 10, 12, 14].map((feet) => feet * foot),
  })),
};

/** Thicknesses that boards are made in (mm). */
export const thicknesses: Readonly<Record<Units, readonly number[]>> = {
  mm: [9.5, 12.5, 15, 18],
  inch: [3 / 8, 1 / 2, 5 / 8, 3 / 4].map((inches) => inches * inch),
};

const isSame = (a: StockSize, b: StockSize) =>
  Math.abs(a.width - b.width) < 0.5 && Math.abs(a.length - b.length) < 0.5;

/** All sizes of board on hand, the survey's own first. */
export function listStockSizes({ board, stock = [] }: Pick<Lining, 'board' | 'stock'>): StockSize[] {
  return [{ width: board.width, length: board.length }, ...stock];
}

/** The survey with its sizes changed: the first is its board, the others its further stock; the same survey when none is left. */
function changeSizes(survey: Survey, change: (sizes: readonly StockSize[]) => readonly StockSize[]): Survey {
  const { stock = [], ...rest } = survey.lining;
  const { width, length } = rest.board;
  const [first, ...others] = change([{ width, length }, ...stock]);
  if (!first) return survey;
  const board = { ...rest.board, width: first.width, length: first.length };
  return { ...survey, lining: { ...rest, board, ...(others.length > 0 ? { stock: others } : {}) } };
}

/** The survey with one more size of board on hand; the same survey when it is there already. */
export function addSize(survey: Survey, size: StockSize): Survey {
  if (listStockSizes(survey.lining).some((each) => isSame(each, size))) return survey;
  return changeSizes(survey, (sizes) => [...sizes, size]);
}

/** The survey without one size of board; the last one stays. */
export function removeSize(survey: Survey, size: StockSize): Survey {
  return changeSizes(survey, (sizes) => sizes.filter((each) => !isSame(each, size)));
}

/**
 * A size of board as it is called.
 * @example nameSize({ width: 1200, length: 2400 }, 'mm') // '1200 × 2400 mm'
 * @example nameSize({ width: 1219.2, length: 2438.4 }, 'inch') // '48 × 96 in'
 */
export function nameSize({ width, length }: StockSize, units: Units): string {
  return `${lengthText(width, units, 0)} × ${lengthText(length, units, 0)} ${units === 'inch' ? 'in' : 'mm'}`;
}
