import { imageFromWall } from '../../core/camera/camera.ts';
import type { Sides } from '../../core/lining/rects.ts';
import type { Area } from '../room.ts';
import type { Point } from '../rings.ts';
import type { Lift, PhotoSight } from './photoSight.ts';

/** A line in the picture's drawing: x right, y down (px), the picture's upper left corner at (0, 0). */
export type PhotoLine = readonly Point[];

/** Longest stretch of the wall (mm) drawn as straight without a look between its ends. */
const STRETCH_MM = 100;
/** How far (px) a place between two corners may lie off the straight line between them. */
const BOW_PX = 0.1;
/** Halvings of a stretch: to 0.2 mm at its end of sight. */
const HALVINGS = 9;

/** Where a spot of the wall is in the drawing; null where the camera does not see there. */
export function placeOnPhoto({ camera }: PhotoSight, lift: Lift, spot: Point): Point | null {
  const { u, v } = imageFromWall(camera, lift(spot));
  // pixel centres lie at whole numbers, the drawing begins at the first pixel's edge
  return Number.isNaN(u) ? null : [u + 0.5, v + 0.5];
}

const between = (a: Point, b: Point, t: number): Point => [
  a[0] + t * (b[0] - a[0]),
  a[1] + t * (b[1] - a[1]),
];

/** Distance (px) of a point from the straight line between two others. */
function offChord([x, y]: Point, [ax, ay]: Point, [bx, by]: Point): number {
  const length = Math.hypot(bx - ax, by - ay);
  if (length < 1e-9) return Math.hypot(x - ax, y - ay);
  return Math.abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / length;
}

/**
 * A line over the wall (along, up; mm) as the camera sees it: pieces in the drawing (px), their corners so close that lens and relief bow
 * it by under half a pixel between them; what lies behind the camera, beyond its lens or outside the picture is cut off.
 */
export function tracePhoto(
  sight: PhotoSight,
  lift: Lift,
  line: readonly Point[],
  closed: boolean,
): PhotoLine[] {
  const spots = closed && line.length > 0 ? [...line, line[0]!] : line;
  const pieces: Point[][] = [];
  let piece: Point[] = [];
  const end = () => {
    if (piece.length > 1) pieces.push(piece);
    piece = [];
  };
  /** Adds what is seen from spot a to spot b, whose places are known; `halvings` left. */
  const add = (a: Point, b: Point, atA: Point | null, atB: Point | null, halvings: number): void => {
    if (!atA && !atB) return end();
    const [near, middle, far] = [0.25, 0.5, 0.75].map((t) => placeOnPhoto(sight, lift, between(a, b, t)));
    const isWhole = atA && atB && near && middle && far;
    const isStraight = isWhole && [near, middle, far].every((each) => offChord(each, atA, atB) < BOW_PX);
    if (halvings > 0 && !isStraight) {
      const half = between(a, b, 0.5);
      add(a, half, atA, middle ?? null, halvings - 1);
      add(half, b, middle ?? null, atB, halvings - 1);
    } else if (atA && atB) {
      if (piece.length === 0) piece.push(atA);
      piece.push(atB);
    } else end();
  };
  for (let k = 1; k < spots.length; k++) {
    const [from, to] = [spots[k - 1]!, spots[k]!];
    const parts = Math.max(1, Math.ceil(Math.hypot(to[0] - from[0], to[1] - from[1]) / STRETCH_MM));
    const knots = Array.from({ length: parts + 1 }, (_, i) => between(from, to, i / parts));
    const places = knots.map((knot) => placeOnPhoto(sight, lift, knot));
    for (let i = 1; i <= parts; i++) add(knots[i - 1]!, knots[i]!, places[i - 1]!, places[i]!, HALVINGS);
  }
  end();
  const { widthPx, heightPx } = sight.camera;
  const picture = { left: 0, right: widthPx, bottom: 0, top: heightPx };
  return pieces.flatMap((each) => cutLine(each, picture, 'inside'));
}

/** The stretch of a segment inside a rectangle, as shares of it (Liang and Barsky 1984); null where there is none. */
function clipSegment([ax, ay]: Point, [bx, by]: Point, sides: Sides): [number, number] | null {
  const [dx, dy] = [bx - ax, by - ay];
  let [from, to] = [0, 1];
  for (const [move, room] of [
    [-dx, ax - sides.left],
    [dx, sides.right - ax],
    [-dy, ay - sides.bottom],
    [dy, sides.top - ay],
  ] as const) {
    if (move === 0) {
      if (room < 0) return null;
    } else if (move < 0) from = Math.max(from, room / move);
    else to = Math.min(to, room / move);
  }
  return from < to ? [from, to] : null;
}

/**
 * The pieces of a line inside, or outside, a rectangle.
 * @example cutLine([[0, 0], [10, 0]], { left: 4, right: 6, bottom: -1, top: 1 }, 'outside') // [[[0, 0], [4, 0]], [[6, 0], [10, 0]]]
 */
export function cutLine(line: readonly Point[], sides: Sides, keep: 'inside' | 'outside'): Point[][] {
  const pieces: Point[][] = [];
  let open = false;
  const add = (a: Point, b: Point, from: number, to: number) => {
    if (to - from < 1e-12) return;
    if (open && from === 0) pieces.at(-1)!.push(between(a, b, to));
    else pieces.push([between(a, b, from), between(a, b, to)]);
    open = to === 1;
  };
  for (let k = 1; k < line.length; k++) {
    const [a, b] = [line[k - 1]!, line[k]!];
    const inside = clipSegment(a, b, sides);
    if (keep === 'inside') {
      if (inside) add(a, b, ...inside);
      else open = false;
    } else {
      const [from, to] = inside ?? [1, 1];
      if (from > 0) add(a, b, 0, from);
      else open = false;
      if (to < 1) add(a, b, to, 1);
      else if (inside) open = false;
    }
  }
  return pieces;
}

/** The parts of lines outside all of some rectangles of the wall. */
export function cutOut(lines: readonly (readonly Point[])[], rects: readonly Sides[]): (readonly Point[])[] {
  return rects.reduce<(readonly Point[])[]>(
    (left, rect) => left.flatMap((line) => cutLine(line, rect, 'outside')),
    [...lines],
  );
}

/** The area (px) that lines of the drawing cover; null where there are none. */
export function boundLines(lines: readonly PhotoLine[]): Area | null {
  const points = lines.flat();
  if (points.length === 0) return null;
  const range = (axis: 0 | 1) =>
    points.reduce(
      ([low, high], point) => [Math.min(low, point[axis]), Math.max(high, point[axis])] as const,
      [Infinity, -Infinity] as const,
    );
  const [[left, right], [top, bottom]] = [range(0), range(1)];
  return { left, right, top, bottom };
}
