import type { NextMeasure } from '../core/results.ts';
import type { WallFrame } from './frame.ts';
import { writeLength, type Units } from './length.ts';
import { look, type Pen } from './look.ts';
import { areaAround, type Area } from './room.ts';
import { label, textRoom } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';

const path = (d: string, width: number): SvgNode =>
  element('path', { d, fill: 'none', stroke: look.signal, 'stroke-width': width, 'stroke-linecap': 'round' });

const move = (x: number, y: number) => `M${formatNumber(x)},${formatNumber(y)}`;
const across = (x: number) => `H${formatNumber(x)}`;
const down = (y: number) => `V${formatNumber(y)}`;

/** A figure on a patch of paper that keeps within the wall. */
function writeFigure(text: string, x: number, y: number, frame: WallFrame, pen: Pen): SvgNode[] {
  const [wide, high] = [textRoom(text, pen.font) + 0.6 * pen.font, 1.35 * pen.font];
  const within = (value: number, least: number, most: number) => Math.max(least, Math.min(most, value));
  const midX = within(x, frame.left + wide / 2, frame.right - wide / 2);
  const midY = within(y, frame.top + high / 2, frame.bottom - high / 2);
  const { left, top }: Area = areaAround(midX, midY, wide, high);
  return [
    element('rect', {
      x: left,
      y: top,
      width: wide,
      height: high,
      fill: look.sheet,
      stroke: look.signal,
      'stroke-width': pen.hair,
    }),
    label(text, midX, midY, { size: pen.font, anchor: 'middle', bold: true, fill: look.signal }),
  ];
}

/** A dimension line up from the floor to a height, its figure in its middle. */
function dimensionUp(up: number, x: number, frame: WallFrame, units: Units, pen: Pen): SvgNode[] {
  const [y, tick] = [frame.y(up), 0.35 * pen.font];
  const d = `${move(x, frame.bottom)}${down(y)}${move(x - tick, frame.bottom)}${across(x + tick)}${move(x - tick, y)}${across(x + tick)}`;
  return [
    path(d, pen.thin),
    ...writeFigure(writeLength(up, units, 1), x, (y + frame.bottom) / 2, frame, pen),
  ];
}

/** A dimension line from the wall's left end to a place along it. */
function dimensionAlong(along: number, y: number, frame: WallFrame, units: Units, pen: Pen): SvgNode[] {
  const [x, tick] = [frame.x(along), 0.35 * pen.font];
  const d = `${move(frame.left, y)}${across(x)}${move(frame.left, y - tick)}${down(y + tick)}${move(x, y - tick)}${down(y + tick)}`;
  return [
    path(d, pen.thin),
    ...writeFigure(writeLength(along, units, 1), (x + frame.left) / 2, y, frame, pen),
  ];
}

/** A ringed cross. */
export function drawTarget(x: number, y: number, pen: Pen): SvgNode {
  const arm = 1.1 * pen.font;
  return element(
    'g',
    {},
    element('circle', {
      cx: x,
      cy: y,
      r: 0.7 * pen.font,
      fill: look.sheet,
      stroke: look.signal,
      'stroke-width': pen.heavy,
    }),
    path(`${move(x - arm, y)}${across(x + arm)}${move(x, y - arm)}${down(y + arm)}`, pen.line),
  );
}

/** A line advised next as it would run over the wall, to be drawn below the openings; nothing for a reading. */
export function drawNextLine(
  { kind, along, up, stretch }: NextMeasure,
  frame: WallFrame,
  pen: Pen,
): SvgNode[] {
  if (!stretch) return [];
  const { from, to } = stretch;
  return [
    kind === 'level'
      ? path(`${move(frame.x(from), frame.y(up))}${across(frame.x(to))}`, 1.3 * pen.heavy)
      : path(`${move(frame.x(along), frame.y(from))}${down(frame.y(to))}`, 1.3 * pen.heavy),
  ];
}

/** Where on its stretch the dimension of a line stands. */
const DIMENSION_AT = 0.3;

/**
 * Where the measurement advised next is, in the signal colour: a level line's height from the floor, a plumb line's distance from the
 * left end, a reading as a ringed cross with both.
 */
export function drawNextPlace(
  { kind, along, up, stretch }: NextMeasure,
  frame: WallFrame,
  units: Units,
  pen: Pen,
): SvgNode[] {
  const at = stretch ? stretch.from + DIMENSION_AT * (stretch.to - stretch.from) : NaN;
  if (kind === 'level' && stretch) return dimensionUp(up, frame.x(at), frame, units, pen);
  if (kind === 'plumb' && stretch) return dimensionAlong(along, frame.y(at), frame, units, pen);
  return [
    ...dimensionAlong(along, frame.y(up), frame, units, pen),
    ...dimensionUp(up, frame.x(along), frame, units, pen),
    drawTarget(frame.x(along), frame.y(up), pen),
  ];
}
