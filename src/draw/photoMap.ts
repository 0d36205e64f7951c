import type { WallPoint } from '../core/camera/frames.ts';
import type { Photo, Survey, WallSpot } from '../core/survey.ts';
import { placeWall, type WallFrame } from './frame.ts';
import { formatLength } from './length.ts';
import { look, makePen, type Pen } from './look.ts';
import { label, textRoom } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';
import { drawBoxes, drawOpenings, drawRect, drawWallEdge } from './wallParts.ts';

/** What is known of one photo, for the small map of the wall beside it. */
export interface PhotoOnWall {
  readonly survey: Survey;
  readonly photo: Photo;
  /** The place that is asked for now; null = none. */
  readonly asked: WallSpot | null;
  /** Where the phone was, where that is known. */
  readonly phone: Pick<WallPoint, 'along' | 'up'> | null;
}

/** Greatest height of the wall on the map, in the drawing's unit. */
const MOST_HIGH = 190;
const MARK_REACH = 3.5;

/** The photo's lines at their heights, each with its name at its end. */
function drawSheets(photo: Photo, frame: WallFrame, pen: Pen, units: Survey['units']): SvgNode[] {
  return photo.lines.flatMap(({ sheet: { axis, at }, colour }) => {
    if (at === null) return [];
    const stroke = { stroke: look[colour], 'stroke-width': pen.heavy };
    if (axis === 'level') {
      const y = frame.y(at);
      return [
        element('line', { x1: frame.left, x2: frame.right, y1: y, y2: y, ...stroke }),
        label(formatLength(at, units, 1), frame.right + 4, y, {
          size: pen.small,
          fill: look[colour],
          bold: true,
        }),
      ];
    }
    const x = frame.x(at);
    return [
      element('line', { x1: x, x2: x, y1: frame.top, y2: frame.bottom, ...stroke }),
      label(formatLength(at, units, 1), x, frame.bottom + pen.font, {
        size: pen.small,
        fill: look[colour],
        anchor: 'middle',
        bold: true,
      }),
    ];
  });
}

/** A tape as a band from its first to its last mark. */
function drawTapes({ tapes, marks }: Photo, frame: WallFrame): SvgNode[] {
  return tapes.flatMap(({ from, to }) => {
    const [one, other] = [marks[from], marks[to]];
    if (!one || !other) return [];
    const ends = {
      x1: frame.x(one.along),
      y1: frame.y(one.up),
      x2: frame.x(other.along),
      y2: frame.y(other.up),
    };
    return [element('line', { ...ends, stroke: look.edge, 'stroke-width': 3, opacity: 0.6 })];
  });
}

/** Marks as crosses with their numbers; above and to the right, or to the left where there is no room. */
function drawMarks({ marks }: Photo, frame: WallFrame, pen: Pen): SvgNode[] {
  return marks.flatMap(({ along, up, leftOut }, index) => {
    const [x, y] = [frame.x(along), frame.y(up)];
    const r = MARK_REACH;
    const name = String(index + 1);
    const right = x + r + textRoom(name, pen.small) < frame.right;
    const ink = leftOut ? look.edge : look.pencil;
    return [
      element('path', {
        d: `M${formatNumber(x - r)} ${formatNumber(y - r)}l${2 * r} ${2 * r}m0 ${-2 * r}l${-2 * r} ${2 * r}`,
        stroke: ink,
        'stroke-width': pen.line,
        fill: 'none',
      }),
      label(name, right ? x + r + 1 : x - r - 1, y - r - 2, {
        size: pen.small,
        fill: ink,
        anchor: right ? 'start' : 'end',
      }),
    ];
  });
}

/** The place that is asked for: a ring that stands out. */
function drawAsked({ along, up }: WallSpot, frame: WallFrame): SvgNode[] {
  const at = { cx: frame.x(along), cy: frame.y(up) };
  return [
    element('circle', { ...at, r: 9, fill: 'none', stroke: look.signal, 'stroke-width': 2.5 }),
    element('circle', { ...at, r: 2, fill: look.signal }),
  ];
}

/** The phone as a small upright rectangle with a lens, held inside the drawing. */
function drawPhone(phone: Pick<WallPoint, 'along' | 'up'>, frame: WallFrame, widthPx: number): SvgNode[] {
  const x = Math.min(widthPx - 6, Math.max(6, frame.x(phone.along)));
  const y = Math.min(frame.bottom, Math.max(frame.top, frame.y(phone.up)));
  const body = { x: x - 4, y: y - 7, width: 8, height: 14, rx: 1.5 };
  return [
    element('rect', { ...body, fill: look.sheet, stroke: look.graphite, 'stroke-width': 1.2 }),
    element('circle', { cx: x, cy: y - 3.5, r: 1.4, fill: look.graphite }),
  ];
}

/**
 * The wall seen straight on, small, with what one photo says of it: its lines at their heights, tapes and marks with their numbers, the
 * phone's place, and the place that is asked for next; openings, boxes and readings to find one's way by.
 */
export function drawPhotoMap({ survey, photo, asked, phone }: PhotoOnWall, widthPx = 340): SvgNode {
  const { wall, units } = survey;
  const pen = makePen(11);
  const perMm = Math.min((widthPx - 12 - 58) / wall.width, MOST_HIGH / wall.height);
  const frame = placeWall(wall, 12, 12, perMm);
  const heightPx = frame.bottom + 2 * pen.font;
  return element(
    'svg',
    { viewBox: `0 0 ${formatNumber(widthPx)} ${formatNumber(heightPx)}`, width: widthPx, height: heightPx },
    element('rect', { x: 0, y: 0, width: widthPx, height: heightPx, fill: look.sheet }),
    drawRect({ along: 0, up: 0, width: wall.width, height: wall.height }, frame, { fill: look.wall }),
    drawOpenings(wall.openings, frame, units, pen),
    drawBoxes(wall.boxes, frame, pen),
    ...survey.readings.map(({ along, up }) =>
      element('circle', { cx: frame.x(along), cy: frame.y(up), r: 1.6, fill: look.graphite }),
    ),
    drawWallEdge(wall, frame, pen),
    ...drawTapes(photo, frame),
    ...drawSheets(photo, frame, pen, units),
    ...drawMarks(photo, frame, pen),
    ...(phone ? drawPhone(phone, frame, widthPx) : []),
    ...(asked ? drawAsked(asked, frame) : []),
  );
}
