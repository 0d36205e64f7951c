import type { GaugeScrew, HighPoint, LiningPlan } from '../core/results.ts';
import type { WallFrame } from './frame.ts';
import { writeLength, type Units } from './length.ts';
import { look, type Pen } from './look.ts';
import { areaAround, isWithin, placesBeside, type Area, type Room, type TextPlace } from './room.ts';
import { label, textRoom } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';
import { areaOf } from './wallParts.ts';

const colourOf = ({ zone }: GaugeScrew) => (zone === 'thin' || zone === 'beyond' ? look.signal : look.pencil);

/** A gauge screw seen from the front: its head with the slots. */
export function drawScrewMark(x: number, y: number, colour: string, pen: Pen): SvgNode {
  const radius = 0.26 * pen.font;
  const slot = 0.6 * radius;
  return element(
    'g',
    { stroke: colour, 'stroke-width': pen.hair },
    element('circle', { cx: x, cy: y, r: radius, fill: look.sheet, 'stroke-width': pen.thin }),
    element('line', { x1: x - slot, y1: y, x2: x + slot, y2: y }),
    element('line', { x1: x, y1: y - slot, x2: x, y2: y + slot }),
  );
}

/** Round a gauge screw where cables or pipes are likely: a dotted ring. */
export function drawServiceRing(x: number, y: number, pen: Pen): SvgNode {
  return element('circle', {
    ...{ cx: x, cy: y, r: 0.46 * pen.font },
    fill: 'none',
    stroke: look.signal,
    'stroke-width': pen.line,
    'stroke-dasharray': `${formatNumber(pen.line)} ${formatNumber(pen.line)}`,
  });
}

/** The high point: a triangle standing on it. */
export function drawHighMark(x: number, y: number, pen: Pen): SvgNode {
  const half = 0.5 * pen.font;
  return element('path', {
    d: `M${formatNumber(x)},${formatNumber(y)}l${formatNumber(half)},${formatNumber(-1.6 * half)}h${formatNumber(-2 * half)}Z`,
    fill: look.signal,
    stroke: look.sheet,
    'stroke-width': pen.thin,
  });
}

export interface DrawnScrews {
  readonly node: SvgNode;
  /** Screws whose figure found no room: they must be read from the list. */
  readonly unwritten: readonly string[];
}

interface Spot {
  readonly screw: GaugeScrew;
  readonly x: number;
  readonly y: number;
  /** The area of the screw's board. */
  readonly board: Area | undefined;
}

/** Sizes of the figures to try, as shares of the pen's letters. */
const figureShares = [1, 0.87, 0.72];

interface Figure {
  readonly spot: Spot;
  readonly text: string;
  readonly size: number;
  readonly place: TextPlace | null;
}

/** A place for the figure of one screw on its own board, towards the board's middle: to half a mm, else to whole ones. */
function placeFigure(spot: Spot, units: Units, size: number, reach: number, room: Room): Figure {
  const { screw, x, y, board } = spot;
  const leftFirst = board !== undefined && x > (board.left + board.right) / 2 + reach / 4;
  for (const toMm of [0.5, 1]) {
    const text = writeLength(screw.projection, units, toMm);
    const places = placesBeside(x, y, textRoom(text, size), size, reach, leftFirst);
    const place = room.takeFirst(places.filter(({ area }) => !board || isWithin(area, board)));
    if (place) return { spot, text, size, place };
  }
  return { spot, text: '', size, place: null };
}

const countUnplaced = (figures: readonly Figure[]) => figures.filter(({ place }) => place === null).length;

/**
 * Gauge screws with the figure their heads are set to: all in one size, the largest in which each finds room on its own
 * board and off the others; what still finds none is left out and named.
 */
export function drawScrews(
  plan: LiningPlan,
  frame: WallFrame,
  units: Units,
  pen: Pen,
  room: Room,
): DrawnScrews {
  const reach = 0.32 * pen.font;
  const spots = plan.screws.map((screw): Spot => {
    const board = plan.boards.find(({ id }) => id === screw.board);
    return { screw, x: frame.x(screw.along), y: frame.y(screw.up), board: board && areaOf(board, frame) };
  });
  for (const { x, y } of spots) room.take(areaAround(x, y, 2 * reach, 2 * reach));
  let best: Figure[] | null = null;
  for (const share of figureShares) {
    const copy = room.copy();
    const tried = spots.map((spot) => placeFigure(spot, units, share * pen.font, reach, copy));
    if (best === null || countUnplaced(tried) < countUnplaced(best)) best = tried;
    if (countUnplaced(best) === 0) break;
  }
  const figures = (best ?? []).flatMap(({ spot: { screw }, text, size, place }): SvgNode[] => {
    if (!place) return [];
    const { left, right, top, bottom } = place.area;
    room.take(place.area);
    return [
      element('rect', {
        x: left,
        y: top,
        width: right - left,
        height: bottom - top,
        rx: 0.2 * size,
        fill: look.sheet,
      }),
      label(text, place.x, place.y, { size, anchor: 'middle', bold: true, fill: colourOf(screw) }),
    ];
  });
  const marks = spots.flatMap(({ screw, x, y }) => [
    ...(screw.services === null ? [] : [drawServiceRing(x, y, pen)]),
    drawScrewMark(x, y, colourOf(screw), pen),
  ]);
  const unwritten = (best ?? []).filter(({ place }) => place === null).map(({ spot }) => spot.screw.id);
  return { node: element('g', {}, ...figures, ...marks), unwritten };
}

/** The spots that the bed plane rests on; the one furthest out is named with its bed and its distance from the laser. */
export function drawHighPoints(
  plan: LiningPlan,
  frame: WallFrame,
  units: Units,
  pen: Pen,
  room: Room,
): SvgNode {
  const { highPoint, highPoints } = plan;
  const isNamed = (point: HighPoint) => point.along === highPoint.along && point.up === highPoint.up;
  const others = highPoints.filter((point) => !isNamed(point));
  const spots = [highPoint, ...others].map((point) => ({
    point,
    x: frame.x(point.along),
    y: frame.y(point.up),
  }));
  for (const { x, y } of spots) room.take(areaAround(x, y - 0.4 * pen.font, pen.font, 0.9 * pen.font));
  const [x, y] = [frame.x(highPoint.along), frame.y(highPoint.up)];
  const bed = `bed ${writeLength(highPoint.bed, units, 0.5)}`;
  const texts = [
    `high point: ${bed}, laser ${writeLength(-highPoint.out, units, 0.5)}`,
    `high point: ${bed}`,
    bed,
  ];
  for (const text of texts) {
    const width = textRoom(text, pen.font) + 0.5 * pen.font;
    const place = room.takeFirst(placesBeside(x, y - 0.4 * pen.font, width, 1.1 * pen.font, 0.6 * pen.font));
    if (!place) continue;
    const { area } = place;
    return element(
      'g',
      {},
      ...spots.map((spot) => drawHighMark(spot.x, spot.y, pen)),
      element('rect', {
        x: area.left,
        y: area.top,
        width,
        height: area.bottom - area.top,
        fill: look.signalWash,
        stroke: look.signal,
        'stroke-width': pen.hair,
      }),
      label(text, place.x, place.y, { size: pen.font, anchor: 'middle', fill: look.signal }),
    );
  }
  return element('g', {}, ...spots.map((spot) => drawHighMark(spot.x, spot.y, pen)));
}
