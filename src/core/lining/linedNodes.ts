import type { Surface } from '../results.ts';
import type { Wall, WallRect } from '../survey.ts';
import { sidesOf } from './rects.ts';

/** What of a wall says where it is lined: its size and openings (mm). */
export interface LinedWall {
  readonly width: number;
  readonly height: number;
  readonly openings: readonly WallRect[];
}

/** How far round a spot one looks for wall (mm). */
const beside = 0.01;

/**
 * Whether boards meet the wall at a spot (mm): whether there is wall right beside it. On the edge of an opening there is;
 * on the threshold of a door, or between openings that touch, there is none. A spot beyond the wall's end or top (the last
 * nodes of a grid) counts as the end or top itself.
 * @example isLined({ width: 4000, height: 2500, side: 'internal', boxes: [], openings: [{ id: 'o1', kind: 'door', along: 1000, up: 0, width: 900, height: 2000 }] }, 1400, 0) // false
 */
export function isLined(wall: LinedWall, alongMm: number, upMm: number): boolean {
  const along = Math.min(alongMm, wall.width);
  const up = Math.min(upMm, wall.height);
  const openings = wall.openings.map(sidesOf);
  const isWall = (x: number, y: number) =>
    x > 0 &&
    x < wall.width &&
    y > 0 &&
    y < wall.height &&
    !openings.some(({ left, right, bottom, top }) => x > left && x < right && y > bottom && y < top);
  return [-beside, beside].some((x) => [-beside, beside].some((y) => isWall(along + x, up + y)));
}

/** The surface with NaN at every node where there is no wall to line. */
export function keepLinedNodes(surface: Surface, wall: Wall): Surface {
  const { nx, stepMm } = surface;
  const lined = Array.from(surface.out, (_, k) =>
    isLined(wall, (k % nx) * stepMm, Math.floor(k / nx) * stepMm),
  );
  const keep = (values: Float64Array) => values.map((value, k) => (lined[k] ? value : NaN));
  return { ...surface, out: keep(surface.out), sigma: keep(surface.sigma) };
}
