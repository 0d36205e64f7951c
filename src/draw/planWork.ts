import type { HackedSpot, PackingStrip } from '../core/liningPlan.ts';
import type { WallFrame } from './frame.ts';
import { writeLength, type Units } from './length.ts';
import { look, type Pen } from './look.ts';
import { areaAround, placesBeside, sidesOfArea, type Room } from './room.ts';
import { label, textRoom } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';
import { areaOf } from './wallParts.ts';

/** The look of a spot to hack off: strokes of a chisel across it, in a dashed frame. */
function drawChiselled(x: number, y: number, width: number, height: number, pen: Pen): SvgNode {
  const step = 0.55 * pen.font;
  const count = Math.max(1, Math.floor((width + height) / step));
  const strokes = Array.from({ length: count }, (_, k) => {
    // a stroke from the left or lower side up to the upper or right one, at 45 degrees
    const at = ((k + 0.5) * (width + height)) / count;
    const [x1, y1] = [Math.max(0, at - height), Math.min(height, at)];
    const long = Math.min(width - x1, y1);
    return `M${formatNumber(x + x1)},${formatNumber(y + y1)}l${formatNumber(long)},${formatNumber(-long)}`;
  });
  return element(
    'g',
    { fill: 'none', stroke: look.signal },
    element('path', { d: strokes.join(''), 'stroke-width': pen.thin }),
    element('rect', {
      ...{ x, y, width, height },
      'stroke-width': pen.line,
      'stroke-dasharray': `${formatNumber(3 * pen.line)} ${formatNumber(1.5 * pen.line)}`,
    }),
  );
}

/** The sample of a spot to hack off for the legend, its middle at (x, y). */
export function sampleChiselled(x: number, y: number, width: number, pen: Pen): SvgNode {
  return drawChiselled(x - width / 2, y - 0.45 * pen.font, width, 0.9 * pen.font, pen);
}

/** The spots picked to be hacked off, each with its name and how much comes off (in the survey's units), where there is room. */
export function drawHackedSpots(
  spots: readonly HackedSpot[],
  frame: WallFrame,
  units: Units,
  pen: Pen,
  room: Room,
): SvgNode {
  const areas = spots.map(({ area }) => areaOf(area, frame));
  for (const area of areas) for (const side of sidesOfArea(area)) room.take(side);
  const names = spots.map(({ id, depthMm }, k) => {
    const { left, right, top, bottom } = areas[k]!;
    const off = writeLength(depthMm, units, 0.5);
    for (const text of [`${id}: hack ${off} off`, `${id}: ${off} off`, `${id}: ${off}`]) {
      const width = textRoom(text, pen.font) + 0.5 * pen.font;
      const [x, y] = [(left + right) / 2, (top + bottom) / 2];
      const reach = Math.max(right - left, bottom - top) / 2 + 0.1 * pen.font;
      const inside = { x, y, area: areaAround(x, y, width, 1.2 * pen.font) };
      const isWide = right - left > width + pen.font && bottom - top > 1.6 * pen.font;
      const beside = placesBeside(x, y, width, 1.1 * pen.font, reach);
      const place = room.takeFirst(isWide ? [inside, ...beside] : beside);
      if (!place) continue;
      const { area } = place;
      return [
        element('rect', {
          ...{ x: area.left, y: area.top, width, height: area.bottom - area.top },
          fill: look.signalWash,
          stroke: look.signal,
          'stroke-width': pen.hair,
        }),
        label(text, place.x, place.y, { size: pen.font, anchor: 'middle', fill: look.signal }),
      ];
    }
    return [];
  });
  return element(
    'g',
    {},
    ...areas.map(({ left, right, top, bottom }) => drawChiselled(left, top, right - left, bottom - top, pen)),
    ...names.flat(),
  );
}

/** A packing strip seen from the front: a piece of board; each further layer shows as one more line inside its edge. */
function drawStrip(x: number, y: number, width: number, height: number, layers: number, pen: Pen): SvgNode {
  const inset = Math.min(2 * pen.line, Math.min(width, height) / (2 * layers + 1));
  return element(
    'g',
    { stroke: look.pencil },
    element('rect', { x, y, width, height, fill: look.ruled, 'stroke-width': pen.thin }),
    ...Array.from({ length: layers - 1 }, (_, k) =>
      element('rect', {
        x: x + (k + 1) * inset,
        y: y + (k + 1) * inset,
        width: width - 2 * (k + 1) * inset,
        height: height - 2 * (k + 1) * inset,
        fill: 'none',
        'stroke-width': pen.hair,
      }),
    ),
  );
}

/** The sample of a packing strip of some layers for the legend, its middle at (x, y). */
export function sampleStrip(layers: number, x: number, y: number, width: number, pen: Pen): SvgNode {
  return drawStrip(x - width / 2, y - 0.4 * pen.font, width, 0.8 * pen.font, layers, pen);
}

/** The strips of board that are bonded to the masonry before the boards, to size. */
export function drawPackingStrips(strips: readonly PackingStrip[], frame: WallFrame, pen: Pen): SvgNode {
  return element(
    'g',
    {},
    ...strips.map((strip) => {
      const { left, right, top, bottom } = areaOf(strip, frame);
      return drawStrip(left, top, right - left, bottom - top, strip.layers, pen);
    }),
  );
}
