import type { Board } from '../../results.ts';
import type { WallSpot } from '../../survey.ts';
import { clipSides, growSides, sidesOf, type Sides } from '../rects.ts';

/** Where an upright line at `along` enters and leaves an outline; NaN where it misses it. */
function crossOutline(outline: readonly WallSpot[], along: number): { bottom: number; top: number } {
  let [bottom, top] = [NaN, NaN];
  outline.forEach((from, k) => {
    const to = outline[(k + 1) % outline.length]!;
    if (along < Math.min(from.along, to.along) || along > Math.max(from.along, to.along)) return;
    const share = from.along === to.along ? 0 : (along - from.along) / (to.along - from.along);
    const ups = from.along === to.along ? [from.up, to.up] : [from.up + share * (to.up - from.up)];
    bottom = Math.min(...ups, Number.isNaN(bottom) ? Infinity : bottom);
    top = Math.max(...ups, Number.isNaN(top) ? -Infinity : top);
  });
  return { bottom, top };
}

/**
 * The heights (mm) between which a board covers the whole stretch from `left` to `right`, its cut-outs apart. Its sides are
 * upright, its ends may slope.
 */
export function endsOver(board: Board, left: number, right: number): { bottom: number; top: number } {
  const { outline } = board;
  if (!outline) return { bottom: board.up, top: board.up + board.height };
  const within = outline.map(({ along }) => along).filter((along) => along > left && along < right);
  // A stretch's own ends are taken just inside it, where the outline has one height only.
  const crossed = [left + 1e-6, right - 1e-6, ...within].map((along) => crossOutline(outline, along));
  return {
    bottom: Math.max(...crossed.map(({ bottom }) => bottom)),
    top: Math.min(...crossed.map(({ top }) => top)),
  };
}

/** The part of a rectangle that lies `insetMm` or more within a board's edges, its cut-outs apart; null where there is none. */
export function clipToBoard(board: Board, sides: Sides, insetMm: number): Sides | null {
  const across = clipSides(sides, growSides(sidesOf(board), -insetMm));
  if (!across) return null;
  const { bottom, top } = endsOver(board, across.left, across.right);
  return clipSides(across, { ...across, bottom: bottom + insetMm, top: top - insetMm });
}

/** Area of a board (mm2) without its cut-outs, which lie apart or one in another's way: each spot counts once. */
export function measureBoard(board: Board): number {
  const { outline } = board;
  const whole = outline
    ? outline.reduce((sum, from, k) => {
        const to = outline[(k + 1) % outline.length]!;
        return sum + (from.along * to.up - to.along * from.up) / 2;
      }, 0)
    : board.width * board.height;
  return whole - measureUnion(board.cutouts.map(sidesOf));
}

/** Area that rectangles cover together. @example measureUnion([{ left: 0, right: 2, bottom: 0, top: 2 }, { left: 1, right: 3, bottom: 0, top: 1 }]) // 5 */
export function measureUnion(rects: readonly Sides[]): number {
  const cuts = [...new Set(rects.flatMap(({ left, right }) => [left, right]))].sort((a, b) => a - b);
  return cuts.slice(1).reduce((sum, right, k) => {
    const left = cuts[k]!;
    const met = rects
      .filter((each) => each.left < right && each.right > left)
      .sort((a, b) => a.bottom - b.bottom);
    let covered = 0;
    let upTo = -Infinity;
    for (const { bottom, top } of met) {
      covered += Math.max(0, top - Math.max(bottom, upTo));
      upTo = Math.max(upTo, top);
    }
    return sum + covered * (right - left);
  }, 0);
}
