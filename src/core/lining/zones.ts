import type { ZoneShare } from '../results.ts';
import type { Lining, Wall } from '../survey.ts';
import { zoneEnds, zoneOrder } from './bed.ts';
import { sampleNodes, type NodeGrid } from './nodeGrid.ts';
import { sidesOf, visitTiles, type Sides } from './rects.ts';

/**
 * Share of a triangle's area where a linear function with corner values `a`, `b`, `c` lies at or below `level`.
 * Source: plane geometry; the level line cuts off a triangle similar to the part it lies in.
 * @example shareBelow(0, 1, 2, 1) // 0.5
 */
export function shareBelow(a: number, b: number, c: number, level: number): number {
  const least = Math.min(a, b, c);
  const most = Math.max(a, b, c);
  if (level >= most) return 1;
  if (level < least) return 0;
  const middle = a + b + c - least - most;
  if (level < middle) return (level - least) ** 2 / ((middle - least) * (most - least));
  return 1 - (most - level) ** 2 / ((most - middle) * (most - least));
}

/** Share of one tile at or below `level`: four triangles about its middle, of a bed given at the corners. */
function tileShareBelow(corners: readonly [number, number, number, number], level: number): number {
  const [a, b, c, d] = corners;
  const middle = (a + b + c + d) / 4;
  const triangles = [
    [a, b],
    [b, c],
    [c, d],
    [d, a],
  ] as const;
  return triangles.reduce((sum, [one, next]) => sum + shareBelow(one, next, middle, level), 0) / 4;
}

/**
 * Area (m2) and share of the lined wall in each zone, from the thinnest bed to the deepest. The wall is cut exactly at
 * its ends and at the openings' sides; within a grid cell the bed is that of four triangles. Shares sum to 1.
 * `bed`: the bed at the nodes, without NaN.
 */
export function measureZones(bed: NodeGrid, wall: Wall, limits: Lining['bed']): ZoneShare[] {
  const frame: Sides = { left: 0, right: wall.width, bottom: 0, top: wall.height };
  const ends = zoneEnds(limits);
  const belowMm2 = [0, 0, 0];
  let wholeMm2 = 0;
  const addTile = ({ left, right, bottom, top }: Sides) => {
    const corners = [
      sampleNodes(bed, left, bottom),
      sampleNodes(bed, right, bottom),
      sampleNodes(bed, right, top),
      sampleNodes(bed, left, top),
    ] as const;
    const areaMm2 = (right - left) * (top - bottom);
    wholeMm2 += areaMm2;
    ends.forEach((end, k) => (belowMm2[k]! += areaMm2 * tileShareBelow(corners, end)));
  };
  visitTiles(frame, wall.openings.map(sidesOf), addTile, bed.stepMm);
  const upTo = [0, ...belowMm2, wholeMm2];
  return zoneOrder.map((zone, k) => {
    const areaMm2 = Math.max(0, upTo[k + 1]! - upTo[k]!);
    return {
      zone,
      areaM2: areaMm2 / 1e6,
      share: wholeMm2 > 0 ? areaMm2 / wholeMm2 : 0,
      expectedM2: areaMm2 / 1e6,
    };
  });
}
