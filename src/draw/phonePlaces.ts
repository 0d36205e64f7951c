import { scaleLinear } from 'd3';
import type { PhotoPose } from '../core/results.ts';
import type { Wall } from '../core/survey.ts';
import { writeLength, type Units } from './length.ts';
import { look, makePen, type Pen } from './look.ts';
import { areaAround, placesBeside, Room } from './room.ts';
import { label, textRoom } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';

export interface DrawnPlaces {
  readonly wall: Pick<Wall, 'width' | 'height'>;
  readonly photos: readonly PhotoPose[];
  readonly units: Units;
}

export interface PlacesSize {
  readonly widthPx?: number;
  readonly fontPx?: number;
}

interface View {
  readonly title: string;
  /** The wall, as a line from here to there. */
  readonly wall: readonly [number, number, number, number];
  readonly spots: readonly { readonly id: string; readonly x: number; readonly y: number }[];
  readonly box: {
    readonly left: number;
    readonly right: number;
    readonly top: number;
    readonly bottom: number;
  };
}

function drawView({ title, wall: [x1, y1, x2, y2], spots, box }: View, pen: Pen): SvgNode[] {
  const room = new Room(box);
  for (const { x, y } of spots) room.take(areaAround(x, y, 0.8 * pen.font, 0.8 * pen.font));
  return [
    label(title, box.left, box.top - 0.9 * pen.font, { size: pen.small, fill: look.graphite }),
    element('line', { x1, y1, x2, y2, stroke: look.pencil, 'stroke-width': pen.heavy }),
    ...spots.flatMap(({ id, x, y }) => {
      const place = room.takeFirst(placesBeside(x, y, textRoom(id, pen.small), pen.small, 0.4 * pen.font));
      return [
        element('circle', { cx: x, cy: y, r: 0.28 * pen.font, fill: look.pencil }),
        ...(place
          ? [label(id, place.x, place.y, { size: pen.small, anchor: 'middle', fill: look.pencil })]
          : []),
      ];
    }),
  ];
}

/** Where each phone stood, as solved: from above (the wall at the top) and from the side (the wall at the left), one scale. */
export function drawPhonePlaces({ wall, photos, units }: DrawnPlaces, size: PlacesSize = {}): SvgNode {
  const { widthPx = 640, fontPx = 12 } = size;
  const pen = makePen(fontPx);
  const reach = (pick: (pose: PhotoPose) => number, ...more: number[]) => {
    const all = [...photos.map(pick), ...more];
    return [Math.min(...all), Math.max(...all)] as const;
  };
  const along = reach(({ position }) => position.along, 0, wall.width);
  const up = reach(({ position }) => position.up, 0, wall.height);
  const out = reach(({ position }) => position.out, 0, 500);
  const [margin, head] = [1.6 * fontPx, 2.6 * fontPx];
  const perMm = Math.min(
    (widthPx - 2 * margin) / (along[1] - along[0]),
    (widthPx - 2 * margin) / (out[1] - out[0]),
    420 / (out[1] - out[0]),
  );
  const scale = ([least, most]: readonly [number, number], from: number) =>
    scaleLinear([least, most], [from, from + (most - least) * perMm]);
  const planX = scale(along, margin);
  const planY = scale(out, head);
  const planEnd = planY(out[1]) + margin;
  const sideX = scale(out, margin);
  const sideTop = planEnd + head;
  const sideY = scaleLinear([up[1], up[0]], [sideTop, sideTop + (up[1] - up[0]) * perMm]);
  const sideEnd = sideY(up[0]) + margin;
  const metre = units === 'inch' ? 1219.2 : 1000;
  const rule = { x1: widthPx - margin - metre * perMm, x2: widthPx - margin };
  const plan: View = {
    title: 'from above: the wall at the top, its left end left',
    wall: [planX(0), planY(0), planX(wall.width), planY(0)],
    spots: photos.map(({ id, position }) => ({ id, x: planX(position.along), y: planY(position.out) })),
    box: { left: margin, right: widthPx - margin, top: head, bottom: planEnd },
  };
  const side: View = {
    title: 'from the side: the wall at the left, the floor below',
    wall: [sideX(0), sideY(0), sideX(0), sideY(wall.height)],
    spots: photos.map(({ id, position }) => ({ id, x: sideX(position.out), y: sideY(position.up) })),
    box: { left: margin, right: widthPx - margin, top: sideTop, bottom: sideEnd },
  };
  return element(
    'svg',
    { viewBox: `0 0 ${formatNumber(widthPx)} ${formatNumber(sideEnd)}`, width: widthPx, height: sideEnd },
    element('rect', { x: 0, y: 0, width: widthPx, height: sideEnd, fill: look.sheet }),
    ...drawView(plan, pen),
    ...drawView(side, pen),
    element('line', {
      x1: margin,
      y1: sideY(0),
      x2: widthPx - margin,
      y2: sideY(0),
      stroke: look.edge,
      'stroke-width': pen.thin,
    }),
    element('line', {
      ...rule,
      y1: sideEnd - 0.5 * fontPx,
      y2: sideEnd - 0.5 * fontPx,
      stroke: look.graphite,
      'stroke-width': pen.thin,
    }),
    label(
      `${writeLength(metre, units, 1)} ${units === 'inch' ? 'in' : 'mm'}`,
      rule.x1 - 0.5 * fontPx,
      sideEnd - 0.5 * fontPx,
      { size: pen.small, anchor: 'end', fill: look.graphite },
    ),
  );
}
