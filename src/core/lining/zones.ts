import { normalBelow } from '../next/normal.ts';
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

/** Points of Gauss's two-point rule on a stretch 0..1. */
const gauss = [0.5 - Math.sqrt(1 / 12), 0.5 + Math.sqrt(1 / 12)] as const;

/** Chances that the bed of a tile lies at or below each of the levels, mean over the tile: normal about the bed, with its sigma. */
function tileChances(
  bed: NodeGrid,
  sigma: NodeGrid,
  { left, right, bottom, top }: Sides,
  levels: readonly number[],
): number[] {
  const chances = levels.map(() => 0);
  for (const a of gauss) {
    for (const b of gauss) {
      const along = left + a * (right - left);
      const up = bottom + b * (top - bottom);
      const bedMm = sampleNodes(bed, along, up);
      const sigmaMm = sampleNodes(sigma, along, up);
      levels.forEach((level, k) => {
        const isBelow = bedMm <= level ? 1 : 0;
        chances[k]! += (sigmaMm > 0 ? normalBelow((level - bedMm) / sigmaMm) : isBelow) / 4;
      });
    }
  }
  return chances;
}

/**
 * Area (m2) and share of the lined wall in each zone, from the thinnest bed to the deepest. The wall is cut exactly at
 * its ends and at the openings' sides; within a grid cell the bed is that of four triangles. Shares sum to 1.
 * Beside it the area to be expected in each zone: the chance to be in it, summed over the wall.
 * `bed` and `sigma`: at the nodes (mm), without NaN.
 */
export function measureZones(bed: NodeGrid, sigma: NodeGrid, wall: Wall, limits: Lining['bed']): ZoneShare[] {
  const frame: Sides = { left: 0, right: wall.width, bottom: 0, top: wall.height };
  const ends = zoneEnds(limits);
  const belowMm2 = [0, 0, 0];
  const likelyMm2 = [0, 0, 0];
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
    const chances = tileChances(bed, sigma, { left, right, bottom, top }, ends);
    ends.forEach((end, k) => {
      belowMm2[k]! += areaMm2 * tileShareBelow(corners, end);
      likelyMm2[k]! += areaMm2 * chances[k]!;
    });
  };
  visitTiles(frame, wall.openings.map(sidesOf), addTile, bed.stepMm);
  const upTo = [0, ...belowMm2, wholeMm2];
  const likelyUpTo = [0, ...likelyMm2, wholeMm2];
  return zoneOrder.map((zone, k) => {
    const areaMm2 = Math.max(0, upTo[k + 1]! - upTo[k]!);
    return {
      zone,
      areaM2: areaMm2 / 1e6,
      share: wholeMm2 > 0 ? areaMm2 / wholeMm2 : 0,
      expectedM2: Math.max(0, likelyUpTo[k + 1]! - likelyUpTo[k]!) / 1e6,
    };
  });
}
