import type { ImagePoint } from '../camera/frames.ts';
import type { LaserLine, LineAxis } from '../survey.ts';
import { acrossOf, alongOf, type Span } from './restriction.ts';
import { PATH_COSTS, type PathCosts, type StrengthMap } from './path.ts';

/** A place that a line passes through: px along and across it, and its rise across per px along. */
export interface Anchor {
  readonly along: number;
  readonly across: number;
  /** NaN where nothing near the pin tells it. */
  readonly slope: number;
}

/** A pin's line is looked for within this share of the picture's long side to either side of the pin. */
const REACH_SHARE = 0.008;
/** And in this share of the map's columns to either side of it, at slopes up to a tilt of about 14 degrees. */
const LENGTH_SHARE = 0.07;
const MOST_SLOPE = 0.25;
/** Strength at which more tells nothing more, and its mean from which a line is believed to pass. */
const ENOUGH = 5;
const LEAST_MEAN = 0.5;
/** A place at the edge of the reach counts for this much less than one at the pin. */
const EDGE_LOSS = 0.4;
/** Away from its anchors a line keeps this near to straight (px across per px along). */
const SPREAD = 0.035;

/** How far beside a pin its line may lie (px) in a picture of this long side. @example pinReachPx(4000) // 32 */
export const pinReachPx = (longSidePx: number): number => Math.max(4, REACH_SHARE * longSidePx);

/**
 * Where the line passes near every pin, in order along it: of all straight stretches within reach of the pin the one with
 * most strength under it; the pin itself where there is none. A place of the map is `blockPx` px of the picture.
 */
export function anchorPins(
  map: StrengthMap,
  axis: LineAxis,
  blockPx: number,
  pins: readonly ImagePoint[],
  reachPx: number,
): Anchor[] {
  return pins
    .map((pin) => anchorPin(map, blockPx, alongOf(pin, axis), acrossOf(pin, axis), reachPx))
    .sort((a, b) => a.along - b.along);
}

function anchorPin(
  map: StrengthMap,
  blockPx: number,
  along: number,
  across: number,
  reachPx: number,
): Anchor {
  const { width, height, values } = map;
  const column = Math.min(width - 1, Math.max(0, Math.round((along + 0.5) / blockPx - 0.5)));
  const row = (across + 0.5) / blockPx - 0.5;
  const reach = reachPx / blockPx;
  const length = Math.max(6, Math.round(LENGTH_SHARE * width));
  const [first, last] = [Math.max(0, column - length), Math.min(width - 1, column + length)];
  let best = { mean: LEAST_MEAN, row, slope: NaN };
  for (let off = -Math.ceil(reach); off <= Math.ceil(reach); off++) {
    const loss = EDGE_LOSS * Math.min(1, (off / reach) ** 2);
    for (let rise = -Math.round(MOST_SLOPE * length); rise <= MOST_SLOPE * length; rise++) {
      let sum = 0;
      for (let x = first; x <= last; x++) {
        const y = Math.round(row + off + (rise * (x - column)) / length);
        if (y >= 0 && y < height) sum += Math.min(ENOUGH, values[y * width + x]!);
      }
      const mean = (sum / (last - first + 1)) * (1 - loss);
      if (mean > best.mean) best = { mean, row: row + off, slope: rise / length };
    }
  }
  return { along, across: (best.row + 0.5) * blockPx - 0.5, slope: best.slope };
}

/** A line that is said to be there is followed on fainter evidence: this share of the usual strength. */
const FAINTER = 0.4;
export const PINNED_COSTS: PathCosts = {
  ...PATH_COSTS,
  threshold: FAINTER * PATH_COSTS.threshold,
  enough: FAINTER * PATH_COSTS.enough,
};

/** Takes all strength away where a line through the pins cannot be, in place. */
export function confineToPins(
  map: StrengthMap,
  axis: LineAxis,
  blockPx: number,
  pins: readonly ImagePoint[],
): void {
  const { width, height, values } = map;
  const reachPx = pinReachPx(Math.max(width, height) * blockPx);
  const anchors = anchorPins(map, axis, blockPx, pins, reachPx);
  const place = (block: number): number => (block + 0.5) * blockPx - 0.5;
  for (let x = 0; x < width; x++) {
    const span = anchorSpan(anchors, place(x), reachPx);
    for (let y = 0; y < height; y++)
      if (place(y) < span.from || place(y) > span.to) values[y * width + x] = 0;
  }
}

/**
 * Rows across that a line through its anchors (in order, at least one) may have at one place along it (px): straight from
 * anchor to anchor and straight on beyond them, the wider the further from the nearest.
 * @example anchorSpan([{ along: 0, across: 10, slope: 0 }, { along: 100, across: 20, slope: 0 }], 50, 2) // { from: 11.25, to: 18.75 }
 */
export function anchorSpan(anchors: readonly Anchor[], along: number, reachPx: number): Span {
  const after = anchors.findIndex((anchor) => anchor.along >= along);
  const b = anchors[after < 0 ? anchors.length - 1 : after]!;
  const a = after > 0 ? anchors[after - 1]! : b;
  const nearest = Math.min(Math.abs(along - a.along), Math.abs(along - b.along));
  const inside = a !== b && b.along > a.along;
  const middle = inside
    ? a.across + ((along - a.along) / (b.along - a.along)) * (b.across - a.across)
    : b.across + endSlope(anchors, after < 0) * (along - b.along);
  const half = reachPx + SPREAD * nearest;
  return { from: middle - half, to: middle + half };
}

/** Slope beyond the last (or first) anchor: its own, else that from its neighbour, else none. */
function endSlope(anchors: readonly Anchor[], last: boolean): number {
  const end = anchors[last ? anchors.length - 1 : 0]!;
  if (!Number.isNaN(end.slope)) return end.slope;
  const next = anchors[last ? anchors.length - 2 : 1];
  if (!next || next.along === end.along) return 0;
  return (next.across - end.across) / (next.along - end.along);
}

/** Pins of a line (their indices) near which it has no point in use, in a picture of this long side (px). */
export function listUnseenPins(
  { pins = [], points, sheet }: Pick<LaserLine, 'pins' | 'points' | 'sheet'>,
  longSidePx: number,
): number[] {
  const reachPx = 2 * pinReachPx(longSidePx);
  const isNear = (a: ImagePoint, b: ImagePoint): boolean =>
    Math.abs(alongOf(a, sheet.axis) - alongOf(b, sheet.axis)) <= reachPx &&
    Math.abs(acrossOf(a, sheet.axis) - acrossOf(b, sheet.axis)) <= reachPx;
  return pins.flatMap((pin, index) =>
    points.some((point) => point.state !== 'off' && isNear(point, pin)) ? [] : [index],
  );
}
