import type { GaugeScrew } from '../../core/results.ts';
import type { Units } from '../length.ts';
import { writeLength } from '../length.ts';
import { look, type Pen } from '../look.ts';
import type { Point } from '../rings.ts';
import { areaAround, placesBeside, type Area, type Room } from '../room.ts';
import { element, formatNumber, type SvgNode } from '../tree.ts';
import { ink, inkLines, inkPatch, patchWidth } from './photoInk.ts';
import { placeOnPhoto } from './photoLines.ts';
import { isInPicture, type PhotoSight } from './photoSight.ts';

/** A gauge screw in the picture: where it goes into the wall, and its head on the boards' backs. */
export interface SeenScrew {
  readonly screw: GaugeScrew;
  readonly foot: Point;
  readonly head: Point;
}

/** The gauge screws whose foot and head are in the picture. */
export function seeScrews(sight: PhotoSight, screws: readonly GaugeScrew[]): SeenScrew[] {
  const head = sight.onPlane();
  const isIn = (at: Point | null): at is Point =>
    at !== null && isInPicture(sight.camera, at[0] - 0.5, at[1] - 0.5);
  return screws.flatMap((screw) => {
    const spot: Point = [screw.along, screw.up];
    const [foot, at] = [placeOnPhoto(sight, sight.onWall, spot), placeOnPhoto(sight, head, spot)];
    return isIn(foot) && isIn(at) ? [{ screw, foot, head: at }] : [];
  });
}

const colourOf = ({ zone }: GaugeScrew) => (zone === 'thin' || zone === 'beyond' ? ink.signal : ink.board);

/** Radius of a head as drawn. */
const radiusOf = (pen: Pen) => 0.36 * pen.font;

/** A screw seen from the side it stands out of the wall: a cross where to drill, its shank, its head. */
function drawScrew({ screw, foot, head }: SeenScrew, pen: Pen): SvgNode[] {
  const [[x0, y0], [x, y]] = [foot, head];
  const colour = colourOf(screw);
  const radius = radiusOf(pen);
  const arm = 0.55 * radius;
  const cross = [
    [
      [x0 - arm, y0 - arm],
      [x0 + arm, y0 + arm],
    ],
    [
      [x0 - arm, y0 + arm],
      [x0 + arm, y0 - arm],
    ],
  ] as const;
  const ring = { cx: x, cy: y, fill: 'none' };
  const served = [
    element('circle', { ...ring, r: 1.7 * radius, stroke: ink.halo, 'stroke-width': 2 * pen.line }),
    element('circle', {
      ...{ ...ring, r: 1.7 * radius, stroke: ink.signal },
      'stroke-width': pen.line,
      'stroke-dasharray': `${formatNumber(pen.line)} ${formatNumber(pen.line)}`,
    }),
  ];
  return [
    ...(screw.services === null ? [] : served),
    element('circle', {
      ...ring,
      r: radius,
      fill: look.sheet,
      'fill-opacity': 0.85,
      stroke: ink.halo,
      'stroke-width': 2.2 * pen.line,
    }),
    element('circle', { ...ring, r: radius, stroke: colour, 'stroke-width': pen.line }),
    ...inkLines([[foot, head], ...cross], { colour, width: 0.8 * pen.thin }),
  ];
}

export interface DrawnScrewsOnPhoto {
  readonly marks: SvgNode[];
  readonly labels: SvgNode[];
  readonly seen: readonly SeenScrew[];
  /** Screws in the picture whose figure found no room. */
  readonly unwritten: readonly string[];
}

/** Distances of a figure from its screw to try (letters' sizes); from the second on a leader joins them. */
const reaches = [0.5, 1.5, 2.6];

/** A patch with a text beside a screw, with a leader to it where it stands further off; none where there is no room. */
function placeLabel({ screw, head: [x, y] }: SeenScrew, text: string, size: number, pen: Pen, room: Room) {
  const width = patchWidth(text, size);
  for (const reach of reaches) {
    const place = room.takeFirst(placesBeside(x, y, width, 1.15 * size, reach * pen.font));
    if (!place) continue;
    const patch = inkPatch(text, place.area, { size, bold: true, fill: colourOf(screw) });
    return { area: place.area, patch, leads: reach !== reaches[0] };
  }
  return null;
}

/** Where a straight line from the middle of an area towards a point leaves the area. */
function leaveArea({ left, right, top, bottom }: Area, [x, y]: Point): Point {
  const [midX, midY] = [(left + right) / 2, (top + bottom) / 2];
  const [dx, dy] = [x - midX, y - midY];
  const share = Math.min(
    (right - left) / 2 / Math.abs(dx || 1e-9),
    (bottom - top) / 2 / Math.abs(dy || 1e-9),
    1,
  );
  return [midX + share * dx, midY + share * dy];
}

/** Letters' sizes to try for the figures of all screws, as shares of the pen's. */
const sizeShares = [1, 0.85];

/**
 * Gauge screws with their number and how far the head is to stand out of the wall: in the larger size in which all find room, each
 * beside its screw, or further off with a leader; what finds none is left out and named.
 */
export function drawScrewsOnPhoto(
  sight: PhotoSight,
  screws: readonly GaugeScrew[],
  units: Units,
  pen: Pen,
  room: Room,
): DrawnScrewsOnPhoto {
  const seen = seeScrews(sight, screws);
  const across = 2.2 * radiusOf(pen);
  for (const { head, foot } of seen)
    for (const [x, y] of [head, foot]) room.take(areaAround(x, y, across, across));
  const attempts = sizeShares.map((share) => {
    const tried = room.copy();
    const placed = seen.map((each) => {
      const text = `${each.screw.id}: ${writeLength(each.screw.projection, units, 0.5)}`;
      return { each, at: placeLabel(each, text, share * pen.font, pen, tried) };
    });
    return { placed, missing: placed.filter(({ at }) => at === null).length };
  });
  const { placed } = attempts.reduce((best, next) => (next.missing < best.missing ? next : best));
  for (const { at } of placed) if (at) room.take(at.area);
  const leaders = placed.flatMap(({ each, at }) =>
    at?.leads ? [[leaveArea(at.area, each.head), each.head]] : [],
  );
  return {
    marks: [
      ...inkLines(leaders, { colour: ink.board, width: pen.thin }),
      ...seen.flatMap((each) => drawScrew(each, pen)),
    ],
    labels: placed.flatMap(({ at }) => (at ? [at.patch] : [])),
    seen,
    unwritten: placed.filter(({ at }) => at === null).map(({ each }) => each.screw.id),
  };
}
