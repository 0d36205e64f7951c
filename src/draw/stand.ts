import { scaleLinear } from 'd3';
import type { LineAxis } from '../core/survey.ts';
import { formatLength, type Units } from './length.ts';
import { look, makePen } from './look.ts';
import { label, textRoom } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';

/** Where a phone stands to a sheet of light: distance off the wall, and its place along the wall or above the floor (mm). */
export interface DrawnStand {
  readonly offMm: number;
  readonly placeMm: number;
}

/** A stand to draw: the light's axis and place, the wall's length across it, the phone, and where it had better stand. */
export interface StandDrawing {
  readonly axis: LineAxis;
  readonly atMm: number;
  readonly wallMm: number;
  readonly stand: DrawnStand;
  readonly better: DrawnStand | null;
  readonly units: Units;
}

export interface StandSize {
  readonly widthPx?: number;
  readonly heightPx?: number;
  readonly fontPx?: number;
}

/** Room beyond the phone and above the wall, mm. */
const SPARE_MM = 250;

/**
 * Wall, sheet of light and phone in true proportion, with the angle at which the phone looks across the light: from the side for
 * a level line, from above for a plumb one. A better stand is drawn in the signal colour.
 */
export function drawStand(drawn: StandDrawing, size: StandSize = {}): SvgNode {
  const { axis, atMm, wallMm, stand, better, units } = drawn;
  const { widthPx = 356, heightPx = 230, fontPx = 12 } = size;
  const pen = makePen(fontPx);
  const level = axis === 'level';
  const leastMm = Math.max(stand.offMm, better?.offMm ?? 0) + SPARE_MM;
  const places = [0, wallMm, stand.placeMm, better?.placeMm ?? stand.placeMm];
  const [low, high] = [Math.min(...places), Math.max(...places)];
  const room = {
    left: 1.6 * fontPx,
    right: widthPx - 1.6 * fontPx,
    top: 2 * fontPx,
    bottom: heightPx - 2 * fontPx,
  };
  const perMm = Math.min((room.right - room.left) / leastMm, (room.bottom - room.top) / (high - low));
  // the light and the floor go on as far as the drawing does
  const farMm = (room.right - room.left) / perMm;
  const x = scaleLinear([0, farMm], [room.left, room.left + farMm * perMm]);
  const y = scaleLinear([low, high], [room.bottom, room.bottom - (high - low) * perMm]);
  const figure = { size: pen.small, fill: look.graphite } as const;
  const phone = ({ offMm, placeMm }: DrawnStand, stroke: string, dash?: string): SvgNode[] => [
    element('line', {
      x1: x(offMm),
      y1: y(placeMm),
      x2: x(0),
      y2: y(atMm),
      stroke,
      'stroke-width': pen.thin,
      'stroke-dasharray': dash,
    }),
    element('rect', {
      x: x(offMm) - 0.3 * fontPx,
      y: y(placeMm) - 0.6 * fontPx,
      width: 0.6 * fontPx,
      height: 1.2 * fontPx,
      rx: 0.15 * fontPx,
      fill: look.sheet,
      stroke,
      'stroke-width': pen.line,
    }),
  ];
  const angle = (Math.atan2(Math.abs(stand.placeMm - atMm), stand.offMm) * 180) / Math.PI;
  const above = stand.placeMm >= atMm;
  const betterAbove = (better?.placeMm ?? 0) >= atMm;
  const betterY = y(better?.placeMm ?? 0) + (betterAbove ? -1.3 : 1.4) * fontPx;
  const angleText = `${Math.round(angle)}°`;
  const offText = formatLength(stand.offMm, units, 10);
  const offX = Math.min(
    room.right - textRoom(offText, pen.small) / 2,
    Math.max(room.left, x(stand.offMm / 2)),
  );
  return element(
    'svg',
    { viewBox: `0 0 ${formatNumber(widthPx)} ${formatNumber(heightPx)}`, width: widthPx, height: heightPx },
    element('rect', { x: 0, y: 0, width: widthPx, height: heightPx, fill: look.sheet }),
    // the wall, and the floor it stands on
    element('rect', {
      x: x(0) - 0.7 * fontPx,
      y: y(wallMm),
      width: 0.7 * fontPx,
      height: y(0) - y(wallMm),
      fill: look.ruled,
      stroke: look.edge,
      'stroke-width': pen.hair,
    }),
    ...(level
      ? [
          element('line', {
            x1: x(0) - 0.7 * fontPx,
            y1: y(0),
            x2: x(farMm),
            y2: y(0),
            stroke: look.edge,
            'stroke-width': pen.line,
          }),
        ]
      : []),
    element('line', {
      x1: x(0),
      y1: y(atMm),
      x2: x(farMm),
      y2: y(atMm),
      stroke: look.green,
      'stroke-width': pen.heavy,
      'stroke-opacity': 0.7,
    }),
    ...(better ? phone(better, look.signal, '4 3') : []),
    ...phone(stand, look.pencil),
    label('light', x(farMm), y(atMm) + (above ? 0.9 : -0.9) * fontPx, {
      ...figure,
      fill: look.green,
      anchor: 'end',
    }),
    label(angleText, x(0) + 0.8 * fontPx, y(atMm) + (above ? 0.9 : -0.9) * fontPx, {
      size: fontPx,
      bold: true,
      fill: look.pencil,
    }),
    label(offText, offX, room.bottom + 1.1 * fontPx, { ...figure, anchor: 'middle' }),
    label(level ? 'seen from the side' : 'seen from above', room.left, 0.9 * fontPx, figure),
    ...(better
      ? [
          label(
            'better here',
            Math.min(x(better.offMm), room.right - textRoom('better here', pen.small) / 2),
            betterY,
            {
              ...figure,
              fill: look.signal,
              anchor: 'middle',
            },
          ),
        ]
      : []),
  );
}
