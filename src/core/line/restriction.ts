import type { Corridor } from '../camera/corridor.ts';
import type { ImagePoint } from '../camera/frames.ts';
import type { LineAxis, Mask, Pin } from '../survey.ts';
import type { StrengthMap } from './path.ts';

/**
 * Where in the picture a line may be: within a corridor (anywhere without one), outside every mask, through every pin
 * (`confineToPins`).
 */
export interface Restriction {
  readonly corridor?: Corridor | undefined;
  readonly masks?: readonly Mask[] | undefined;
  readonly pins?: readonly Pin[] | undefined;
}

/** Rows across that a line may have at one place along it, px: from..to, empty where from > to. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** Coordinate of an image point along a line of this axis, and across it (px). */
export const alongOf = (point: ImagePoint, axis: LineAxis): number => (axis === 'level' ? point.u : point.v);
export const acrossOf = (point: ImagePoint, axis: LineAxis): number => (axis === 'level' ? point.v : point.u);

/**
 * The part of a corridor at one place along its line (px): between the path's ends, as far beyond them as
 * the corridor is half wide, straight on.
 * @example corridorSpan({ path: [{ u: 0, v: 10 }, { u: 10, v: 20 }], halfWidthPx: 4 }, 'level', 5) // { from: 11, to: 19 }
 */
export function corridorSpan(corridor: Corridor, axis: LineAxis, along: number): Span {
  const path = [...corridor.path].sort((a, b) => alongOf(a, axis) - alongOf(b, axis));
  const none = { from: Infinity, to: -Infinity };
  const [first, last] = [path[0], path[path.length - 1]];
  if (!first || !last || path.length < 2) return none;
  const { halfWidthPx } = corridor;
  if (along < alongOf(first, axis) - halfWidthPx || along > alongOf(last, axis) + halfWidthPx) return none;
  let k = 1;
  while (k < path.length - 1 && alongOf(path[k]!, axis) < along) k++;
  const [a, b] = [path[k - 1]!, path[k]!];
  const length = alongOf(b, axis) - alongOf(a, axis);
  const share = length > 0 ? (along - alongOf(a, axis)) / length : 0;
  const middle = acrossOf(a, axis) + share * (acrossOf(b, axis) - acrossOf(a, axis));
  return { from: middle - halfWidthPx, to: middle + halfWidthPx };
}

/** Rows across that a corridor has anywhere along its line (px); all of them without one. */
export function corridorRows(corridor: Corridor | undefined, axis: LineAxis): Span {
  if (!corridor) return { from: -Infinity, to: Infinity };
  const across = corridor.path.map((point) => acrossOf(point, axis));
  return {
    from: Math.min(...across) - corridor.halfWidthPx,
    to: Math.max(...across) + corridor.halfWidthPx,
  };
}

/** Whether a place in the picture lies in a mask, `marginPx` beyond its edge included. */
export function isMasked(masks: readonly Mask[], point: ImagePoint, marginPx = 0): boolean {
  return masks.some(
    ({ u, v, width, height }) =>
      point.u >= u - marginPx &&
      point.u <= u + width + marginPx &&
      point.v >= v - marginPx &&
      point.v <= v + height + marginPx,
  );
}

/**
 * Takes all strength away where the line may not be, in place; a place of the map is `blockPx` px of the
 * picture wide and high. Returns the share of the map's columns in which the line may be anywhere.
 */
export function restrictMap(
  map: StrengthMap,
  axis: LineAxis,
  blockPx: number,
  restriction: Restriction,
): number {
  const { width, height, values } = map;
  const { corridor, masks = [] } = restriction;
  const place = (block: number): number => (block + 0.5) * blockPx - 0.5;
  let open = 0;
  for (let x = 0; x < width; x++) {
    const span = corridor ? corridorSpan(corridor, axis, place(x)) : { from: -Infinity, to: Infinity };
    if (span.from <= height * blockPx && span.to >= 0) open++;
    for (let y = 0; y < height; y++) {
      const across = place(y);
      if (across < span.from || across > span.to) values[y * width + x] = 0;
    }
  }
  for (const mask of masks) {
    const [along, across, length, breadth] =
      axis === 'level'
        ? [mask.u, mask.v, mask.width, mask.height]
        : [mask.v, mask.u, mask.height, mask.width];
    const first = Math.max(0, Math.floor(along / blockPx) - 1);
    const last = Math.min(width - 1, Math.floor((along + length) / blockPx) + 1);
    for (
      let y = Math.max(0, Math.floor(across / blockPx) - 1);
      y <= Math.min(height - 1, Math.floor((across + breadth) / blockPx) + 1);
      y++
    )
      if (first <= last) values.fill(0, y * width + first, y * width + last + 1);
  }
  return open / width;
}
