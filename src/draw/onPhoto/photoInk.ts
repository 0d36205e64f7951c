import { tracePath } from '../bands.ts';
import type { WallFrame } from '../frame.ts';
import type { Area } from '../room.ts';
import { label, textRoom, type LabelStyle } from '../text.ts';
import { element, type SvgNode } from '../tree.ts';
import type { PhotoLine } from './photoLines.ts';

/** Inks that read on plaster and on brick, each on a light edge of its own; from shallow beds to deep ones the blue darkens. */
export const ink = {
  halo: '#ffffff',
  board: '#14171b',
  wall: '#3d4148',
  shallow: '#2f86d0',
  deep: '#08244a',
  signal: '#b3200b',
  packing: '#6b2f86',
  dab: '#5c4312',
} as const;

/** The drawing's own px are the paths' units. */
const onPicture = { x: (x: number) => x, y: (y: number) => y } as WallFrame;

export interface Stroke {
  readonly colour: string;
  readonly width: number;
  readonly dash?: string | undefined;
  /** Fill of a whole shape, with its opacity. */
  readonly fill?: string;
  readonly fillOpacity?: number;
}

/** Lines on a photograph: a light edge under the ink, so that they read on dark and light ground. */
export function inkLines(
  lines: readonly PhotoLine[],
  { colour, width, dash, fill, fillOpacity }: Stroke,
): SvgNode[] {
  if (lines.length === 0) return [];
  const d = tracePath(lines, onPicture, false);
  const shape = { d, 'stroke-linejoin': 'round', 'stroke-linecap': 'round' };
  return [
    element('path', {
      ...shape,
      fill: fill ?? 'none',
      'fill-opacity': fillOpacity,
      stroke: ink.halo,
      'stroke-opacity': 0.8,
      'stroke-width': 2.4 * width,
    }),
    element('path', {
      ...shape,
      fill: 'none',
      stroke: colour,
      'stroke-width': width,
      'stroke-dasharray': dash,
    }),
  ];
}

/** A text with a light edge round its letters. */
export function inkText(text: string, x: number, y: number, style: LabelStyle): SvgNode {
  const node = label(text, x, y, style);
  const edge = {
    stroke: ink.halo,
    'stroke-width': 0.28 * style.size,
    'stroke-linejoin': 'round',
    'paint-order': 'stroke',
  };
  return { ...node, attrs: { ...node.attrs, ...edge } };
}

/** How much wider bold letters run. */
const BOLD_WIDER = 1.12;

/** Width of the patch of a bold text. */
export const patchWidth = (text: string, size: number): number =>
  BOLD_WIDER * textRoom(text, size) + 0.4 * size;

/** A text on a light patch with a coloured edge: for what must be read first. */
export function inkPatch(text: string, area: Area, style: LabelStyle): SvgNode {
  const { left, right, top, bottom } = area;
  return element(
    'g',
    {},
    element('rect', {
      ...{ x: left, y: top, width: right - left, height: bottom - top, rx: 0.2 * style.size },
      fill: ink.halo,
      'fill-opacity': 0.92,
      stroke: style.fill,
      'stroke-width': 0.06 * style.size,
    }),
    label(text, (left + right) / 2, (top + bottom) / 2, { ...style, anchor: 'middle' }),
  );
}
