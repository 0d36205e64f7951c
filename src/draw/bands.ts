import { interpolateLab, path as newPath, rgb } from 'd3';
import type { Sides } from '../core/lining/rects.ts';
import { MM_PER_INCH, type Units } from './length.ts';
import { look } from './look.ts';
import type { WallFrame } from './frame.ts';
import type { AtLeast } from './isobands.ts';
import type { Point, Ring } from './rings.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';

/** Round levels between bands of depth, and one colour for each band from the shallowest on. */
export interface Banding {
  readonly stepMm: number;
  readonly levels: readonly number[];
  readonly colours: readonly string[];
}

const roundSteps: Readonly<Record<Units, readonly number[]>> = {
  mm: [0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500],
  inch: [1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 5, 10, 20].map((inches) => inches * MM_PER_INCH),
};

/**
 * The smallest round step (mm) that parts a range into at most `mostBands` bands; round in the units shown.
 * @example chooseStep(5, 27, 9, 'mm') // 5
 * @example chooseStep(5, 27, 9, 'inch') // 3.175
 */
export function chooseStep(leastMm: number, mostMm: number, mostBands: number, units: Units): number {
  const fits = (step: number) => Math.ceil(mostMm / step) - Math.floor(leastMm / step) <= mostBands;
  return roundSteps[units].find(fits) ?? roundSteps[units].at(-1)!;
}

/**
 * Bands for depths from `leastMm` to `mostMm`: the levels are the whole multiples of a round step strictly between.
 * @example chooseBanding(5, 27, 9, 'mm').levels // [10, 15, 20, 25]
 */
export function chooseBanding(leastMm: number, mostMm: number, mostBands: number, units: Units): Banding {
  const stepMm = chooseStep(leastMm, mostMm, mostBands, units);
  const levels: number[] = [];
  for (let k = Math.floor(leastMm / stepMm + 1e-9) + 1; k * stepMm < mostMm - 1e-9; k++)
    levels.push(k * stepMm);
  const wash = interpolateLab(look.washShallow, look.washDeep);
  const colours = Array.from({ length: levels.length + 1 }, (_, k) =>
    rgb(wash(levels.length === 0 ? 0 : k / levels.length)).formatHex(),
  );
  return { stepMm, levels, colours };
}

/** The path that draws a line through wall points, closed or open. */
export function tracePath(lines: readonly (readonly Point[])[], frame: WallFrame, closed: boolean): string {
  // d3's own rounding would drop the shared 0.01 of all other numbers
  const trace = newPath();
  for (const line of lines) {
    line.forEach(([along, up], k) => {
      const [x, y] = [round(frame.x(along)), round(frame.y(up))];
      if (k === 0) trace.moveTo(x, y);
      else trace.lineTo(x, y);
    });
    if (closed) trace.closePath();
  }
  return trace.toString();
}

const round = (value: number) => Number(formatNumber(value));

/** A rectangle as a ring, from its lower left corner. */
export const frameRing = ({ left, right, bottom, top }: Sides): Ring => [
  [left, bottom],
  [right, bottom],
  [right, top],
  [left, top],
];

/** Bands of colour over the wall, painted from the shallowest to the deepest, each over the one before. */
export function drawBands(
  parts: readonly AtLeast[],
  colours: readonly string[],
  wall: Sides,
  frame: WallFrame,
): SvgNode {
  const layers = [[frameRing(wall)], ...parts.map(({ rings }) => rings)];
  return element(
    'g',
    { stroke: 'none' },
    ...layers.flatMap((rings, k) =>
      rings.length === 0
        ? []
        : [element('path', { d: tracePath(rings, frame, true), fill: colours[k]!, 'fill-rule': 'evenodd' })],
    ),
  );
}
