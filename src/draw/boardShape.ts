import { path as newPath } from 'd3';
import type { Board } from '../core/results.ts';
import type { BoxHole } from '../core/liningPlan.ts';
import type { WallRect, WallSpot } from '../core/survey.ts';
import type { WallFrame } from './frame.ts';
import { look, type Pen } from './look.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';
import { drawRect } from './wallParts.ts';

/** A board in measures of its own: everything from its left edge and from the level of its lowest corner (mm). */
export interface BoardShape {
  readonly width: number;
  readonly height: number;
  /** Corners from the lower left, counter-clockwise. */
  readonly corners: readonly WallSpot[];
  /** What is cut out for openings, or for boxes at an edge. */
  readonly cutouts: readonly WallRect[];
  readonly holes: readonly BoxHole[];
  readonly isSloping: boolean;
  readonly edges: Board['edges'];
}

const nearMm = 1;
const isHole = (cutout: WallRect, holes: readonly BoxHole[]) =>
  holes.some(
    (hole) =>
      Math.abs(hole.fromLeft - cutout.along) < nearMm &&
      Math.abs(hole.fromBottom - cutout.up) < nearMm &&
      Math.abs(hole.width - cutout.width) < nearMm,
  );

/**
 * The shape of a board with its cut-outs and holes apart, each once.
 * @example measureShape({ id: 'A', along: 100, up: 12, width: 900, height: 2400, cutouts: [{ along: 700, up: 912, width: 300, height: 1200 }], outline: null, edges: { left: 'bound', right: 'cut' }, holes: [], sheet: 's1', massKg: 20, persons: 1 }).cutouts // [{ along: 600, up: 900, width: 300, height: 1200 }]
 */
export function measureShape(board: Board): BoardShape {
  const { along, up, width, height, holes } = board;
  const cutouts = board.cutouts.map((cutout) => ({
    along: cutout.along - along,
    up: cutout.up - up,
    width: cutout.width,
    height: cutout.height,
  }));
  const rectangle = [
    { along: 0, up: 0 },
    { along: width, up: 0 },
    { along: width, up: height },
    { along: 0, up: height },
  ];
  return {
    width,
    height,
    corners:
      board.outline?.map((corner) => ({ along: corner.along - along, up: corner.up - up })) ?? rectangle,
    cutouts: cutouts.filter((cutout) => !isHole(cutout, holes)),
    holes,
    isSloping: board.outline !== null,
    edges: board.edges,
  };
}

/** The path round a board's corners. */
function traceCorners(corners: readonly WallSpot[], frame: WallFrame): string {
  const trace = newPath();
  corners.forEach(({ along, up }, k) => {
    const [x, y] = [Number(formatNumber(frame.x(along))), Number(formatNumber(frame.y(up)))];
    if (k === 0) trace.moveTo(x, y);
    else trace.lineTo(x, y);
  });
  trace.closePath();
  return trace.toString();
}

/** The parts of a cut-out's sides that lie on the board's own edges: there is no cut to make. */
function listOpenSides(cutout: WallRect, shape: BoardShape): [WallSpot, WallSpot][] {
  const [left, right] = [cutout.along, cutout.along + cutout.width];
  const [bottom, top] = [cutout.up, cutout.up + cutout.height];
  const sides: [boolean, WallSpot, WallSpot][] = [
    [left < nearMm, { along: left, up: bottom }, { along: left, up: top }],
    [right > shape.width - nearMm, { along: right, up: bottom }, { along: right, up: top }],
    [bottom < nearMm, { along: left, up: bottom }, { along: right, up: bottom }],
    [top > shape.height - nearMm, { along: left, up: top }, { along: right, up: top }],
  ];
  return sides.filter(([isOpen]) => isOpen).map(([, from, to]) => [from, to]);
}

/** Fine slanting strokes over a rectangle: what is cut away. */
export function hatchRect(rect: WallRect, frame: WallFrame, pen: Pen): SvgNode {
  const [left, right] = [frame.x(rect.along), frame.x(rect.along + rect.width)];
  const [top, bottom] = [frame.y(rect.up + rect.height), frame.y(rect.up)];
  const [across, down] = [right - left, bottom - top];
  const step = 0.9 * pen.font;
  const strokes: string[] = [];
  for (let at = step; at < across + down; at += step) {
    const [x1, y1] = at < down ? [left, top + at] : [left + at - down, bottom];
    const [x2, y2] = at < across ? [left + at, top] : [right, top + at - across];
    strokes.push(`M${formatNumber(x1)},${formatNumber(y1)}L${formatNumber(x2)},${formatNumber(y2)}`);
  }
  return element('path', {
    d: strokes.join('') || `M${formatNumber(left)},${formatNumber(top)}`,
    fill: 'none',
    stroke: look.ruled,
    'stroke-width': pen.thin,
  });
}

/** The taper of a bound edge as drawn (mm): EN 520 has 40 to 80 (from memory). */
const taperMm = 60;

/** Width (mm) of the taper along an edge as drawn; 0 where the edge is cut. */
export function taperOf({ width, edges }: BoardShape, side: 'left' | 'right'): number {
  return edges[side] === 'bound' ? Math.min(taperMm, width / 4) : 0;
}

/** A line along the taper of each bound edge. */
function drawTapers(shape: BoardShape, frame: WallFrame, pen: Pen): SvgNode[] {
  return (['left', 'right'] as const).flatMap((side) => {
    const taper = taperOf(shape, side);
    if (taper === 0) return [];
    const edge = side === 'left' ? 0 : shape.width;
    const ups = shape.corners.filter(({ along }) => Math.abs(along - edge) < nearMm).map(({ up }) => up);
    const x = frame.x(side === 'left' ? taper : shape.width - taper);
    const ends = { x1: x, x2: x, y1: frame.y(Math.min(...ups)), y2: frame.y(Math.max(...ups)) };
    return ups.length < 2 ? [] : [element('line', { ...ends, stroke: look.ruled, 'stroke-width': pen.line })];
  });
}

/** The board's face with its cut-outs hatched and its holes crossed. */
export function drawShape(shape: BoardShape, frame: WallFrame, pen: Pen): SvgNode {
  const { corners, cutouts, holes } = shape;
  const cut = { fill: look.sheet, stroke: look.pencil, 'stroke-width': 2 * pen.line };
  const away = { fill: look.sheet, stroke: 'none' };
  return element(
    'g',
    {},
    element('path', {
      d: traceCorners(corners, frame),
      fill: look.wall,
      stroke: look.pencil,
      'stroke-width': pen.heavy,
      'stroke-linejoin': 'miter',
    }),
    ...drawTapers(shape, frame, pen),
    ...cutouts.map((cutout) => drawRect(cutout, frame, cut)),
    ...cutouts.map((cutout) => drawRect(cutout, frame, away)),
    ...cutouts.map((cutout) => hatchRect(cutout, frame, pen)),
    ...cutouts.flatMap((cutout) =>
      listOpenSides(cutout, shape).flatMap(([from, to]) => {
        const ends = {
          x1: frame.x(from.along),
          y1: frame.y(from.up),
          x2: frame.x(to.along),
          y2: frame.y(to.up),
        };
        return [
          element('line', { ...ends, stroke: look.sheet, 'stroke-width': 2 * pen.heavy }),
          element('line', {
            ...ends,
            stroke: look.edge,
            'stroke-width': pen.thin,
            'stroke-dasharray': `${formatNumber(0.5 * pen.font)} ${formatNumber(0.3 * pen.font)}`,
          }),
        ];
      }),
    ),
    ...holes.map(({ fromLeft, fromBottom, width, height }) =>
      element(
        'g',
        { stroke: look.pencil },
        drawRect({ along: fromLeft, up: fromBottom, width, height }, frame, {
          fill: look.sheet,
          'stroke-width': pen.line,
        }),
        element('path', {
          d: `M${formatNumber(frame.x(fromLeft))},${formatNumber(frame.y(fromBottom))}l${formatNumber(width * frame.perMm)},${formatNumber(-height * frame.perMm)}m0,${formatNumber(height * frame.perMm)}l${formatNumber(-width * frame.perMm)},${formatNumber(-height * frame.perMm)}`,
          fill: 'none',
          'stroke-width': pen.hair,
        }),
      ),
    ),
  );
}
