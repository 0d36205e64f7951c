import type { HackedSpot } from '../../core/liningPlan.ts';
import type { HighPoint, LiningPlan } from '../../core/results.ts';
import type { Units } from '../length.ts';
import { writeLength } from '../length.ts';
import type { Pen } from '../look.ts';
import type { Point } from '../rings.ts';
import { areaAround, placesBeside, type Room } from '../room.ts';
import { element, formatNumber, type SvgNode } from '../tree.ts';
import { ink, inkLines, inkPatch, patchWidth } from './photoInk.ts';
import { boundLines, placeOnPhoto, tracePhoto } from './photoLines.ts';
import { isInPicture, type PhotoSight } from './photoSight.ts';

/** A high point: a triangle standing on the spot. */
function drawHighMark([x, y]: Point, pen: Pen): SvgNode {
  const half = 0.55 * pen.font;
  return element('path', {
    d: `M${formatNumber(x)},${formatNumber(y)}l${formatNumber(half)},${formatNumber(-1.7 * half)}h${formatNumber(-2 * half)}Z`,
    fill: ink.signal,
    stroke: ink.halo,
    'stroke-width': pen.line,
    'paint-order': 'stroke',
  });
}

function writeBeside(texts: readonly string[], at: Point, reach: number, pen: Pen, room: Room): SvgNode[] {
  for (const text of texts) {
    const width = patchWidth(text, pen.font);
    const place = room.takeFirst(placesBeside(at[0], at[1], width, 1.15 * pen.font, reach));
    if (place) return [inkPatch(text, place.area, { size: pen.font, bold: true, fill: ink.signal })];
  }
  return [];
}

/** A high point in the picture. */
export interface SeenHighPoint {
  readonly point: HighPoint;
  readonly at: Point;
}

/** The spots that the bed plane rests on and that are in the picture, the one furthest out first; each takes the room of its mark. */
export function seeHighPoints(
  sight: PhotoSight,
  { highPoint, highPoints }: LiningPlan,
  pen: Pen,
  room: Room,
): SeenHighPoint[] {
  const others = highPoints.filter(({ along, up }) => along !== highPoint.along || up !== highPoint.up);
  const seen = [highPoint, ...others].flatMap((point) => {
    const at = placeOnPhoto(sight, sight.onWall, [point.along, point.up]);
    return at && isInPicture(sight.camera, at[0] - 0.5, at[1] - 0.5) ? [{ point, at }] : [];
  });
  for (const { at } of seen) room.take(areaAround(at[0], at[1] - 0.45 * pen.font, 1.1 * pen.font, pen.font));
  return seen;
}

/** High points as triangles standing on their spots; the one furthest out with its bed. */
export function drawHighPointsOnPhoto(
  seen: readonly SeenHighPoint[],
  { highPoint }: LiningPlan,
  units: Units,
  pen: Pen,
  room: Room,
): SvgNode[] {
  return seen.flatMap(({ point, at }) => {
    const bed = `bed ${writeLength(point.bed, units, 0.5)}`;
    const texts = point === highPoint ? [`high point: ${bed}`, bed] : [];
    const aside: Point = [at[0], at[1] - 0.45 * pen.font];
    return [drawHighMark(at, pen), ...writeBeside(texts, aside, 0.7 * pen.font, pen, room)];
  });
}

/** Corners of the ring round a spot. */
const CORNERS = 24;

/** Spots picked to be hacked off: a dashed ring with strokes across it, its name, and how much comes off. */
export function drawHackedOnPhoto(
  sight: PhotoSight,
  spots: readonly HackedSpot[],
  units: Units,
  pen: Pen,
  room: Room,
): SvgNode[] {
  return spots.flatMap(({ id, area, depthMm }) => {
    const [midAlong, midUp] = [area.along + area.width / 2, area.up + area.height / 2];
    const at = (x: number, y: number): Point => [
      midAlong + (x * area.width) / 2,
      midUp + (y * area.height) / 2,
    ];
    const ring = Array.from({ length: CORNERS }, (_, k) => (2 * Math.PI * k) / CORNERS).map((angle) =>
      at(Math.cos(angle), Math.sin(angle)),
    );
    // strokes at 45 degrees, `off` the middle, from one side of the ring to the other
    const strokes = [-0.7, -0.35, 0, 0.35, 0.7].map((off) => {
      const half = Math.sqrt((1 - off * off) / 2);
      const aside = off / Math.SQRT2;
      return [at(aside - half, -aside - half), at(aside + half, half - aside)];
    });
    const edge = tracePhoto(sight, sight.onWall, ring, true);
    const across = strokes.flatMap((stroke) => tracePhoto(sight, sight.onWall, stroke, false));
    const bounds = boundLines(edge);
    if (!bounds) return [];
    const { left, right, top, bottom } = bounds;
    const middle: Point = [(left + right) / 2, (top + bottom) / 2];
    const reach = Math.max(right - left, bottom - top) / 2 + 0.2 * pen.font;
    const deep = writeLength(depthMm, units, 0.5);
    return [
      ...inkLines(across, { colour: ink.signal, width: pen.thin }),
      ...inkLines(edge, { colour: ink.signal, width: pen.line, dash: `${3 * pen.line} ${2 * pen.line}` }),
      ...writeBeside([`${id}: hack ${deep} off`, `${id}: ${deep}`], middle, reach, pen, room),
    ];
  });
}
