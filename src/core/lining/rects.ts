import type { WallRect } from '../survey.ts';

/** A rectangle by its four sides (mm). */
export interface Sides {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

/**
 * Sides of a rectangle given by corner and size.
 * @example sidesOf({ along: 100, up: 0, width: 50, height: 20 }) // { left: 100, right: 150, bottom: 0, top: 20 }
 */
export function sidesOf({ along, up, width, height }: WallRect): Sides {
  return { left: along, right: along + width, bottom: up, top: up + height };
}

/**
 * Corner and size of a rectangle given by its sides.
 * @example rectOf({ left: 100, right: 150, bottom: 0, top: 20 }) // { along: 100, up: 0, width: 50, height: 20 }
 */
export function rectOf({ left, right, bottom, top }: Sides): WallRect {
  return { along: left, up: bottom, width: right - left, height: top - bottom };
}

/** The part of `sides` within `frame`; null when they do not overlap. */
export function clipSides(sides: Sides, frame: Sides): Sides | null {
  const left = Math.max(sides.left, frame.left);
  const right = Math.min(sides.right, frame.right);
  const bottom = Math.max(sides.bottom, frame.bottom);
  const top = Math.min(sides.top, frame.top);
  return right > left && top > bottom ? { left, right, bottom, top } : null;
}

/** Whether `outer` covers the whole of `inner`. */
export function coversSides(outer: Sides, inner: Sides): boolean {
  return (
    outer.left <= inner.left &&
    outer.right >= inner.right &&
    outer.bottom <= inner.bottom &&
    outer.top >= inner.top
  );
}

/** The same rectangle with `by` mm more on every side. */
export function growSides({ left, right, bottom, top }: Sides, by: number): Sides {
  return { left: left - by, right: right + by, bottom: bottom - by, top: top + by };
}

/**
 * Sorted distinct cuts from `from` to `to`, both ends in it.
 * @example sortCuts([30, 10, 30, 90], 0, 40) // [0, 10, 30, 40]
 */
export function sortCuts(cuts: readonly number[], from: number, to: number): number[] {
  const inside = cuts.filter((cut) => cut > from && cut < to);
  return [...new Set([from, ...inside, to])].sort((a, b) => a - b);
}

/**
 * Visits the tiles of `frame` outside all `holes`: cut along every hole's side and, where `stepMm` is given, along the
 * lines of a grid of that step, so that no tile crosses a grid line. Together the tiles cover what is left exactly once.
 */
export function visitTiles(
  frame: Sides,
  holes: readonly Sides[],
  visit: (tile: Sides) => void,
  stepMm = Infinity,
): void {
  const lines = (from: number, to: number) =>
    Array.from(
      { length: Math.ceil(to / stepMm) - Math.floor(from / stepMm) },
      (_, k) => (Math.floor(from / stepMm) + k) * stepMm,
    );
  const columns = sortCuts(
    [...holes.flatMap((hole) => [hole.left, hole.right]), ...lines(frame.left, frame.right)],
    frame.left,
    frame.right,
  );
  const rows = sortCuts(
    [...holes.flatMap((hole) => [hole.bottom, hole.top]), ...lines(frame.bottom, frame.top)],
    frame.bottom,
    frame.top,
  );
  for (let j = 0; j + 1 < rows.length; j++) {
    for (let i = 0; i + 1 < columns.length; i++) {
      const tile = { left: columns[i]!, right: columns[i + 1]!, bottom: rows[j]!, top: rows[j + 1]! };
      if (!holes.some((hole) => clipSides(tile, hole))) visit(tile);
    }
  }
}
