import type { Board } from '../core/results.ts';
import type { BoardEdge } from '../core/liningPlan.ts';
import type { Wall, WallRect, WallSpot } from '../core/survey.ts';
import {
  drawMeasures,
  listCrossed,
  roomBeside,
  roomUnder,
  mergeMeasures,
  type Measure,
} from './boardMeasures.ts';
import { drawShape, measureShape, taperOf, type BoardShape } from './boardShape.ts';
import { placeWall, type WallFrame } from './frame.ts';
import { writeLength, type Units } from './length.ts';
import { look, makePen, type Pen } from './look.ts';
import { areaAround, placesBeside, Room, type TextPlace } from './room.ts';
import { label, textRoom } from './text.ts';
import { element, type SvgNode } from './tree.ts';
import { areaOf, drawRect } from './wallParts.ts';

export interface BoardInput {
  readonly board: Board;
  readonly wall: Wall;
  readonly units: Units;
}

export interface BoardSize {
  readonly widthPx?: number;
  /** Greatest height of the board itself. */
  readonly highPx?: number;
  readonly fontPx?: number;
}

/** What there is to measure at each edge of a board, in order. */
export interface BoardMeasures {
  readonly bottom: readonly Measure[];
  readonly left: readonly Measure[];
  readonly right: readonly Measure[];
}

const isWithinRect = ({ along, up }: WallSpot, rect: WallRect) =>
  along > rect.along - 0.5 &&
  along < rect.along + rect.width + 0.5 &&
  up > rect.up - 0.5 &&
  up < rect.up + rect.height + 0.5;

/**
 * Every measure needed to cut a board: from its left edge along the bottom, from the level of its lowest corner up the left side; up the right
 * side the corners of an end that slopes.
 */
export function listBoardMeasures(shape: BoardShape): BoardMeasures {
  const { width, height, cutouts, holes, isSloping } = shape;
  const inside = (at: number, whole: number) => at > 0.5 && at < whole - 0.5;
  const rects = [
    ...cutouts,
    ...holes.map((hole) => ({ ...hole, along: hole.fromLeft, up: hole.fromBottom })),
  ];
  const along = rects.flatMap((rect) =>
    [rect.along, rect.along + rect.width].map((atMm) => ({ atMm, reachMm: rect.up + rect.height })),
  );
  const up = rects.flatMap((rect) =>
    [rect.up, rect.up + rect.height].map((atMm) => ({ atMm, reachMm: rect.along + rect.width })),
  );
  // a corner that is cut away has nothing to measure
  const corners = shape.corners.filter((corner) => !cutouts.some((cutout) => isWithinRect(corner, cutout)));
  const bends = corners.filter((corner) => inside(corner.along, width));
  const atLeft = corners.filter((corner) => corner.along <= 0.5);
  const atRight = corners.filter((corner) => corner.along >= width - 0.5);
  return {
    bottom: mergeMeasures([
      ...along.filter(({ atMm }) => inside(atMm, width)),
      ...bends.map((corner) => ({ atMm: corner.along, reachMm: corner.up })),
      { atMm: width, reachMm: 0, whole: true },
    ]),
    left: mergeMeasures([
      ...up.filter(({ atMm }) => inside(atMm, height)),
      ...bends.map((corner) => ({ atMm: corner.up, reachMm: corner.along })),
      ...atLeft
        .filter((corner) => corner.up > 0.5)
        .map((corner) => ({ atMm: corner.up, reachMm: 0, whole: true })),
    ]),
    right: isSloping
      ? mergeMeasures(
          atRight
            .filter((corner) => corner.up > 0.5)
            .map((corner) => ({ atMm: corner.up, reachMm: 0, whole: true })),
        )
      : [],
  };
}

const edgeNames: Readonly<Record<BoardEdge, string>> = { bound: 'bound edge', cut: 'cut edge' };

/** What each edge is, written up it where there is room. */
function nameEdges(shape: BoardShape, frame: WallFrame, pen: Pen, room: Room): SvgNode {
  const nodes = (['left', 'right'] as const).flatMap((side): SvgNode[] => {
    const text = edgeNames[shape.edges[side]];
    const [wide, high] = [1.1 * pen.font, textRoom(text, pen.small)];
    const inset = Math.max(taperOf(shape, side) * frame.perMm, 0.3 * pen.font) + 0.7 * pen.font;
    const x = side === 'left' ? frame.left + inset : frame.right - inset;
    const places = [0.5, 0.3, 0.7, 0.15, 0.85].map((share): TextPlace => {
      const y = frame.bottom - share * (frame.bottom - frame.top);
      return { x, y, area: areaAround(x, y, wide, high) };
    });
    const place = room.takeFirst(places);
    const style = { size: pen.small, anchor: 'middle', fill: look.graphite, turned: true } as const;
    return place ? [label(text, place.x, place.y, style)] : [];
  });
  return element('g', {}, ...nodes);
}

/** The board's letter, and what each hole and cut-out is and its size, where there is room. */
function nameParts(
  { board, wall, units }: BoardInput,
  shape: BoardShape,
  frame: WallFrame,
  pen: Pen,
  room: Room,
) {
  const nodes: SvgNode[] = [];
  const size = (width: number, height: number) =>
    `${writeLength(width, units, 1)} × ${writeLength(height, units, 1)}`;
  for (const { box, fromLeft, fromBottom, width, height } of shape.holes) {
    const kind = wall.boxes.find(({ id }) => id === box)?.kind ?? box;
    const [x, y] = [frame.x(fromLeft + width / 2), frame.y(fromBottom + height / 2)];
    const reach = (Math.max(width, height) / 2) * frame.perMm;
    for (const text of [`${kind} ${size(width, height)}`, size(width, height)]) {
      const place = room.takeFirst(placesBeside(x, y, textRoom(text, pen.small), pen.small, reach));
      if (!place) continue;
      nodes.push(label(text, place.x, place.y, { size: pen.small, anchor: 'middle', fill: look.graphite }));
      break;
    }
  }
  for (const cutout of shape.cutouts) {
    const [x, y] = [frame.x(cutout.along + cutout.width / 2), frame.y(cutout.up + cutout.height / 2)];
    const lines = ['cut out', size(cutout.width, cutout.height)];
    const wide = Math.max(...lines.map((line) => textRoom(line, pen.small))) + 0.5 * pen.small;
    if (wide > cutout.width * frame.perMm || 2.6 * pen.small > cutout.height * frame.perMm) continue;
    const area = areaAround(x, y, wide, 2.6 * pen.small);
    nodes.push(
      element('rect', { x: area.left, y: area.top, width: wide, height: 2.6 * pen.small, fill: look.sheet }),
      ...lines.map((line, k) =>
        label(line, x, y + (k - 0.5) * 1.25 * pen.small, {
          size: pen.small,
          anchor: 'middle',
          fill: look.graphite,
        }),
      ),
    );
  }
  const letter = 2 * pen.font;
  const across = frame.right - frame.left;
  const down = frame.bottom - frame.top;
  const shares = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];
  const middles = shares
    .flatMap((right) => shares.map((above) => [right, above] as const))
    .sort((a, b) => Math.hypot(a[0] - 0.5, a[1] - 0.5) - Math.hypot(b[0] - 0.5, b[1] - 0.5))
    .map(([right, above]): TextPlace => {
      const [x, y] = [frame.left + right * across, frame.bottom - above * down];
      return { x, y, area: areaAround(x, y, textRoom(board.id, 1.1 * letter), 1.1 * letter) };
    });
  const place = room.takeFirst(middles);
  if (place)
    nodes.push(
      label(board.id, place.x, place.y, { size: letter, anchor: 'middle', bold: true, fill: look.pencil }),
    );
  return element('g', {}, ...nodes);
}

/** One board seen from its face, as it is to be cut, with every measure from its left and bottom edge. */
export function drawBoard(input: BoardInput, size: BoardSize = {}): SvgNode {
  const { widthPx = 340, highPx = 440, fontPx = 12 } = size;
  const { board, units } = input;
  const pen = makePen(fontPx);
  const shape = measureShape(board);
  const measures = listBoardMeasures(shape);
  const left = Math.max(roomBeside(measures.left, units, pen), 1.5 * fontPx);
  const right = Math.max(roomBeside(measures.right, units, pen), 2.5 * fontPx);
  const perMm = Math.min((widthPx - left - right) / shape.width, highPx / shape.height);
  const spare = widthPx - left - right - shape.width * perMm;
  const top = 1.6 * fontPx;
  const frame = placeWall(shape, left + spare / 2, top, perMm);
  const heightPx = frame.bottom + roomUnder(measures.bottom, frame, units, pen);
  const whole = { left: frame.left, right: frame.right, top: frame.top, bottom: frame.bottom };
  const room = new Room(whole);
  for (const cutout of shape.cutouts) room.take(areaOf(cutout, frame));
  for (const { fromLeft, fromBottom, width, height } of shape.holes)
    room.take(areaOf({ along: fromLeft, up: fromBottom, width, height }, frame));
  for (const edge of ['bottom', 'left'] as const)
    for (const area of listCrossed(measures[edge], edge, frame)) room.take(area);
  const edges = nameEdges(shape, frame, pen, room);
  return element(
    'svg',
    { viewBox: `0 0 ${widthPx} ${Math.ceil(heightPx)}`, width: widthPx, height: Math.ceil(heightPx) },
    element('rect', { x: 0, y: 0, width: widthPx, height: Math.ceil(heightPx), fill: look.sheet }),
    // of a board whose end slopes, the rectangle it is cut from
    ...(shape.isSloping
      ? [
          drawRect({ along: 0, up: 0, width: shape.width, height: shape.height }, frame, {
            fill: 'none',
            stroke: look.edge,
            'stroke-width': pen.hair,
          }),
        ]
      : []),
    drawShape(shape, frame, pen),
    edges,
    ...(['bottom', 'left', 'right'] as const)
      .filter((edge) => measures[edge].length > 0)
      .map((edge) => drawMeasures(measures[edge], edge, frame, units, pen)),
    nameParts(input, shape, frame, pen, room),
  );
}
