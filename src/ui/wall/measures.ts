import { canSize, type Thing } from '../../app/wallThings.ts';
import type { Survey } from '../../core/survey.ts';
import type { WallFrame } from '../../draw/frame.ts';
import { lengthText } from '../units.ts';
import { areaOf, TARGET_PX } from './grips.ts';

/** A measure beside a thing: its figure, and the line it is the length of (css px) where that is drawn. */
export interface Measure {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly turned: boolean;
  readonly line: readonly [x1: number, y1: number, x2: number, y2: number] | null;
}

/** A gap narrower than this has no room for a figure (css px). */
const LEAST_GAP_PX = 12;

/** How far a thing is from both ends of the wall and the floor, and its own width and height, where there is room for the figures. */
export function listMeasures(thing: Thing, { wall, units }: Survey, frame: WallFrame): Measure[] {
  const { along, up, width, height } = thing.rect;
  const { left, top, width: widthPx, height: heightPx } = areaOf(thing.rect, frame);
  const [midX, midY] = [left + widthPx / 2, top + heightPx / 2];
  const flat = (lengthMm: number, x1: number, x2: number): Measure[] =>
    x2 - x1 < LEAST_GAP_PX
      ? []
      : [
          {
            text: lengthText(lengthMm, units),
            x: (x1 + x2) / 2,
            y: midY,
            turned: false,
            line: [x1, midY, x2, midY],
          },
        ];
  const upright = (lengthMm: number, y1: number, y2: number): Measure[] =>
    y2 - y1 < LEAST_GAP_PX
      ? []
      : [
          {
            text: lengthText(lengthMm, units),
            x: midX,
            y: (y1 + y2) / 2,
            turned: false,
            line: [midX, y1, midX, y2],
          },
        ];
  const right = left + widthPx;
  const sides = [...flat(along, frame.left, left), ...flat(wall.width - along - width, right, frame.right)];
  const below = upright(up, top + heightPx, frame.bottom);
  if (thing.kind === 'line') return thing.moves === 'up' ? below : sides;
  // round something small the figures would cover each other; its fields say its size
  if (!canSize(thing) || Math.min(widthPx, heightPx) < TARGET_PX) return [...sides, ...below];
  const size: Measure[] = [
    { text: lengthText(width, units), x: midX, y: top - 10, turned: false, line: null },
    {
      text: lengthText(height, units),
      x: left - 10,
      y: top + Math.min(heightPx / 4, 30),
      turned: true,
      line: null,
    },
  ];
  return [...sides, ...below, ...size];
}
