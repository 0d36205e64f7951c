import type { WallRect, WallSpot } from '../../survey.ts';
import type { LiningSettings } from '../defaults.ts';
import { sidesOf, visitTiles } from '../rects.ts';

/**
 * Mass of a board per area (kg/m2): the user's own figure, or by thickness (mm), straight between the thicknesses known and
 * in proportion beyond them.
 * @example boardKgPerM2({ boardKgPerM2: 0, thinBoardKgPerM2: 6.3, usualBoardKgPerM2: 8.6, thickBoardKgPerM2: 11.5 }, 11) // 7.45
 */
export function boardKgPerM2(
  settings: Pick<
    LiningSettings,
    'boardKgPerM2' | 'thinBoardKgPerM2' | 'usualBoardKgPerM2' | 'thickBoardKgPerM2'
  >,
  thicknessMm: number,
): number {
  if (settings.boardKgPerM2 > 0) return settings.boardKgPerM2;
  const [thin, usual, thick] = [
    [9.5, settings.thinBoardKgPerM2],
    [12.5, settings.usualBoardKgPerM2],
    [15, settings.thickBoardKgPerM2],
  ] as const;
  if (thicknessMm <= thin[0]) return (thin[1] * thicknessMm) / thin[0];
  if (thicknessMm >= thick[0]) return (thick[1] * thicknessMm) / thick[0];
  const [a, b] = thicknessMm < usual[0] ? [thin, usual] : [usual, thick];
  return a[1] + ((b[1] - a[1]) * (thicknessMm - a[0])) / (b[0] - a[0]);
}

/**
 * Area within an outline (m2; corners counter-clockwise, mm).
 * @example outlineM2([{ along: 0, up: 0 }, { along: 1000, up: 0 }, { along: 1000, up: 2000 }, { along: 0, up: 1000 }]) // 1.5
 */
export function outlineM2(outline: readonly WallSpot[]): number {
  const twice = outline.reduce((sum, a, k) => {
    const b = outline[(k + 1) % outline.length]!;
    return sum + a.along * b.up - b.along * a.up;
  }, 0);
  return twice / 2e6;
}

/** Area of a board without its cut-outs (m2). Cut-outs are taken to lie within the outline. */
export function boardM2(
  board: WallRect & { outline: readonly WallSpot[] | null; cutouts: readonly WallRect[] },
) {
  let tiled = 0;
  visitTiles(sidesOf(board), board.cutouts.map(sidesOf), ({ left, right, bottom, top }) => {
    tiled += ((right - left) * (top - bottom)) / 1e6;
  });
  if (!board.outline) return tiled;
  return tiled - ((board.width * board.height) / 1e6 - outlineM2(board.outline));
}

/**
 * How many it takes to carry a board: two over the mass one lifts, or where it is longer than one can steer.
 * Source: 25 kg guideline at the waist (British guidance on manual handling), from memory.
 * @example countPersons(26.5, 1700, { liftAloneKg: 25, liftAloneMm: 1800 }) // 2
 */
export function countPersons(
  massKg: number,
  longestMm: number,
  { liftAloneKg, liftAloneMm }: Pick<LiningSettings, 'liftAloneKg' | 'liftAloneMm'>,
): 1 | 2 {
  return massKg > liftAloneKg || longestMm > liftAloneMm ? 2 : 1;
}
