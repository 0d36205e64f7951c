import type { Box, Opening, Survey, WallRect, WallSpot } from '../core/survey.ts';
import type { WallFrame } from './frame.ts';
import { writeLength, type Units } from './length.ts';
import { look, type Pen } from './look.ts';
import { areaAround, placesBeside, type Area, type Room } from './room.ts';
import { label, textRoom } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';

/** A rectangle of the wall in the drawing. */
export function drawRect(
  { along, up, width, height }: WallRect,
  frame: WallFrame,
  attrs: Readonly<Record<string, string | number>>,
): SvgNode {
  return element('rect', {
    x: frame.x(along),
    y: frame.y(up + height),
    width: width * frame.perMm,
    height: height * frame.perMm,
    ...attrs,
  });
}

/** The area of the drawing that a rectangle of the wall covers. */
export function areaOf({ along, up, width, height }: WallRect, frame: WallFrame): Area {
  return {
    left: frame.x(along),
    right: frame.x(along + width),
    top: frame.y(up + height),
    bottom: frame.y(up),
  };
}

/** Name and size of an opening on as many lines as fit, none when there is no room. */
function nameOpening(opening: Opening, frame: WallFrame, units: Units, pen: Pen): string[] {
  const size = `${writeLength(opening.width, units, 1)} × ${writeLength(opening.height, units, 1)}`;
  const room = opening.width * frame.perMm - pen.font;
  const fits = (lines: string[]) =>
    lines.every((line) => textRoom(line, pen.font) < room) &&
    lines.length * 1.4 * pen.font < opening.height * frame.perMm;
  const tries = [[`${opening.kind} ${opening.id}`, size], [opening.kind, size], [opening.kind], [opening.id]];
  return tries.find(fits) ?? [];
}

/** The openings cut out of whatever was drawn before, each crossed and named. */
export function drawOpenings(
  openings: readonly Opening[],
  frame: WallFrame,
  units: Units,
  pen: Pen,
): SvgNode {
  return element(
    'g',
    {},
    ...openings.map((opening) => {
      const [x1, x2] = [frame.x(opening.along), frame.x(opening.along + opening.width)];
      const [y1, y2] = [frame.y(opening.up), frame.y(opening.up + opening.height)];
      const cross = { stroke: look.ruled, 'stroke-width': pen.thin };
      const names = nameOpening(opening, frame, units, pen);
      const [midX, midY] = [(x1 + x2) / 2, (y1 + y2) / 2];
      const wide = Math.max(0, ...names.map((name) => textRoom(name, pen.font))) + 0.8 * pen.font;
      const high = 1.4 * pen.font * names.length;
      return element(
        'g',
        {},
        drawRect(opening, frame, { fill: look.sheet, stroke: look.pencil, 'stroke-width': pen.line }),
        element('line', { x1, y1, x2, y2, ...cross }),
        element('line', { x1, y1: y2, x2, y2: y1, ...cross }),
        ...(names.length > 0
          ? [
              element('rect', {
                x: midX - wide / 2,
                y: midY - high / 2,
                width: wide,
                height: high,
                fill: look.sheet,
              }),
            ]
          : []),
        ...names.map((name, k) =>
          label(name, midX, midY + (k - (names.length - 1) / 2) * 1.4 * pen.font, {
            size: pen.font,
            anchor: 'middle',
            fill: look.graphite,
          }),
        ),
      );
    }),
  );
}

/** Socket and switch boxes: small frames with a double line, cut out. */
export function drawBoxes(boxes: readonly Box[], frame: WallFrame, pen: Pen): SvgNode {
  return element(
    'g',
    {},
    ...boxes.map((box) => {
      const inset = Math.min(box.width, box.height) * 0.22;
      const inner = {
        along: box.along + inset,
        up: box.up + inset,
        width: box.width - 2 * inset,
        height: box.height - 2 * inset,
      };
      return element(
        'g',
        { stroke: look.pencil },
        drawRect(box, frame, { fill: look.sheet, 'stroke-width': pen.thin }),
        drawRect(inner, frame, { fill: 'none', 'stroke-width': pen.hair }),
      );
    }),
  );
}

/** What each box is, beside it, where there is room; the boxes themselves have theirs already. */
export function nameBoxes(boxes: readonly Box[], frame: WallFrame, pen: Pen, room: Room): SvgNode {
  return element(
    'g',
    {},
    ...boxes.flatMap(({ kind, along, up, width, height }) => {
      const [x, y] = [frame.x(along + width / 2), frame.y(up + height / 2)];
      const reach = (Math.max(width, height) / 2) * frame.perMm;
      const place = room.takeFirst(placesBeside(x, y, textRoom(kind, pen.small), pen.small, reach));
      return place
        ? [label(kind, place.x, place.y, { size: pen.small, anchor: 'middle', fill: look.graphite })]
        : [];
    }),
  );
}

/** A floor or ceiling that is not level, from end to end of the wall: straight between its spots, level beyond them. */
function drawSlope(spots: readonly WallSpot[] | undefined, frame: WallFrame, width: number): SvgNode[] {
  if (!spots || spots.length === 0) return [];
  const { left, right } = frame;
  const points = spots.map(({ along, up }) => [frame.x(along), frame.y(up)] as const);
  const ends = [[left, points[0]![1]] as const, ...points, [right, points.at(-1)![1]] as const];
  const d = ends.map(([x, y], k) => `${k === 0 ? 'M' : 'L'}${formatNumber(x)},${formatNumber(y)}`).join('');
  return [element('path', { d, 'stroke-width': width })];
}

/** Ends, floor and ceiling of the wall: a heavy floor line with earth strokes below it, plain lines elsewhere. */
export function drawWallEdge(
  { width, height, floor, ceiling }: Survey['wall'],
  frame: WallFrame,
  pen: Pen,
): SvgNode {
  const { left, right, bottom } = frame;
  const stroke = 0.55 * pen.font;
  const count = Math.max(1, Math.floor((right - left) / (1.6 * stroke)));
  const spacing = (right - left) / count;
  const earth = Array.from({ length: count }, (_, k) => {
    const x = left + (k + 1) * spacing;
    return `M${formatNumber(x)},${formatNumber(bottom)}l${formatNumber(-stroke)},${formatNumber(stroke)}`;
  });
  return element(
    'g',
    { fill: 'none', stroke: look.pencil },
    element('path', { d: earth.join(''), stroke: look.edge, 'stroke-width': pen.hair }),
    drawRect({ along: 0, up: 0, width, height }, frame, { 'stroke-width': pen.line }),
    element('line', { x1: left, y1: bottom, x2: right, y2: bottom, 'stroke-width': pen.heavy }),
    ...drawSlope(floor, frame, pen.heavy),
    ...drawSlope(ceiling, frame, pen.line),
  );
}

/** The four sides by name, and the wall's height, width and joints (mm from the left end) on dimension lines outside it. */
export function drawSides(
  { width, height }: Survey['wall'],
  joints: readonly number[],
  frame: WallFrame,
  units: Units,
  pen: Pen,
): SvgNode {
  const { left, right, top, bottom } = frame;
  const { font } = pen;
  const [midX, midY] = [(left + right) / 2, (top + bottom) / 2];
  const word = { size: font, anchor: 'middle', fill: look.graphite } as const;
  const figures = { size: font, anchor: 'middle', bold: true, fill: look.pencil } as const;
  const below = bottom + 2.1 * font;
  const beside = left - 2 * font;
  const slash = (x: number, y: number) =>
    `M${formatNumber(x - 0.35 * font)},${formatNumber(y + 0.35 * font)}l${formatNumber(0.7 * font)},${formatNumber(-0.7 * font)}`;
  const figure = (at: number) => ({ text: writeLength(at, units, 1), x: frame.x(at) });
  const ends = [figure(0), figure(width)];
  const room = (text: string) => textRoom(text, font) + 0.8 * font;
  // joints whose figures would run into each other are left out
  const kept = joints.map(figure).reduce<{ text: string; x: number }[]>((all, next) => {
    const isClear = [...ends, ...all].every(
      ({ text, x }) => Math.abs(next.x - x) > (room(next.text) + room(text)) / 2,
    );
    return isClear ? [...all, next] : all;
  }, []);
  const ticks = [...kept, ...ends].map(({ x }) => slash(x, below)).join('');
  const line = `M${formatNumber(left)},${formatNumber(below)}H${formatNumber(right)}${ticks}M${formatNumber(beside)},${formatNumber(bottom)}V${formatNumber(top)}${slash(beside, bottom)}${slash(beside, top)}`;
  const high = writeLength(height, units, 1);
  const patch = areaAround(beside, midY, 1.2 * font, room(high));
  return element(
    'g',
    {},
    element('path', { d: line, fill: 'none', stroke: look.graphite, 'stroke-width': pen.thin }),
    element('rect', { x: patch.left, y: patch.top, width: 1.2 * font, height: room(high), fill: look.sheet }),
    label(high, beside, midY, { ...figures, turned: true }),
    ...[...kept, ...ends].map(({ text, x }, k, all) =>
      label(text, x, below + 1.05 * font, {
        ...figures,
        anchor: k === all.length - 1 ? 'end' : figures.anchor,
      }),
    ),
    label('ceiling', midX, top - 0.85 * font, word),
    label('floor', midX, bottom + 1.15 * font, word),
    label('left', left - 0.85 * font, midY, { ...word, turned: true }),
    label('right', right + 0.85 * font, midY, { ...word, turned: true }),
  );
}
