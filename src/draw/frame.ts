import { scaleLinear } from 'd3';
import type { Wall } from '../core/survey.ts';

/** Where the wall stands in a drawing: x right, y down in the drawing's unit; along and up in mm on the wall. */
export interface WallFrame {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  /** Drawing units for one mm of wall. */
  readonly perMm: number;
  x(along: number): number;
  y(up: number): number;
  along(x: number): number;
  up(y: number): number;
}

/**
 * The wall seen straight on with its upper left corner at (left, top).
 * @example placeWall({ width: 3000, height: 2000 }, 10, 20, 0.1).y(0) // 220
 * @example placeWall({ width: 3000, height: 2000 }, 10, 20, 0.1).along(110) // 1000
 */
export function placeWall(
  { width, height }: Pick<Wall, 'width' | 'height'>,
  left: number,
  top: number,
  perMm: number,
): WallFrame {
  const right = left + width * perMm;
  const bottom = top + height * perMm;
  const x = scaleLinear([0, width], [left, right]);
  const y = scaleLinear([0, height], [bottom, top]);
  return {
    left,
    top,
    right,
    bottom,
    perMm,
    x: (along) => x(along),
    y: (up) => y(up),
    along: (px) => x.invert(px),
    up: (px) => y.invert(px),
  };
}
