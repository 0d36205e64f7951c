import type { Wall } from '../../survey.ts';
import { sidesOf, visitTiles, type Sides } from '../rects.ts';

/**
 * Length (mm) of the edge of the wall: at floor, ceiling and ends, and round its openings.
 * @example measureWallEdge({ width: 3000, height: 2000, openings: [] }) // 10000
 * @example measureWallEdge({ width: 3000, height: 2000, openings: [{ along: 900, up: 0, width: 800, height: 1900 }] }) // 13800
 */
export function measureWallEdge({
  width,
  height,
  openings,
}: Pick<Wall, 'width' | 'height'> & { readonly openings: readonly Parameters<typeof sidesOf>[0][] }): number {
  const holes = openings.map(sidesOf);
  const holds = ({ left, right, bottom, top }: Sides, along: number, up: number) =>
    along > left && along < right && up > bottom && up < top;
  const frame = { left: 0, right: width, bottom: 0, top: height };
  const isWall = (along: number, up: number) =>
    holds(frame, along, up) && !holes.some((hole) => holds(hole, along, up));
  const asideMm = 1e-6;
  let edgeMm = 0;
  visitTiles(frame, holes, ({ left, right, bottom, top }) => {
    const [along, up] = [(left + right) / 2, (bottom + top) / 2];
    if (!isWall(left - asideMm, up)) edgeMm += top - bottom;
    if (!isWall(right + asideMm, up)) edgeMm += top - bottom;
    if (!isWall(along, bottom - asideMm)) edgeMm += right - left;
    if (!isWall(along, top + asideMm)) edgeMm += right - left;
  });
  return edgeMm;
}
