import { sampleNodes, type NodeGrid } from '../nodeGrid.ts';
import { visitTiles, type Sides } from '../rects.ts';

/** Points of Gauss's two-point rule on a stretch 0..1: exact for a bed that is bilinear in its cell. */
const gauss = [0.5 - Math.sqrt(1 / 12), 0.5 + Math.sqrt(1 / 12)] as const;

/** Area of a rectangle (mm2). */
export const measureSides = ({ left, right, bottom, top }: Sides): number => (right - left) * (top - bottom);

/**
 * Bed under a rectangle as a volume (mm3), the bed counted up to `mostMm`. `bed`: at the nodes, without NaN. Exact for the bilinear bed
 * where it keeps below that.
 * @example integrateBed({ left: 0, right: 10, bottom: 0, top: 10 }, { stepMm: 10, nx: 2, ny: 1, values: Float64Array.of(4, 6) }) // 500
 */
export function integrateBed(sides: Sides, bed: NodeGrid, mostMm = Infinity): number {
  let sum = 0;
  const addTile = ({ left, right, bottom, top }: Sides) => {
    const quarterMm2 = ((right - left) * (top - bottom)) / 4;
    for (const a of gauss) {
      for (const b of gauss) {
        const bedMm = sampleNodes(bed, left + a * (right - left), bottom + b * (top - bottom));
        sum += quarterMm2 * Math.min(bedMm, mostMm);
      }
    }
  };
  visitTiles(sides, [], addTile, bed.stepMm);
  return sum;
}

/**
 * Least and most bed (mm) under a rectangle: those of a bilinear bed lie at corners of the parts that the grid cuts it into.
 * @example rangeBed({ left: 2, right: 8, bottom: 0, top: 5 }, { stepMm: 10, nx: 2, ny: 1, values: Float64Array.of(0, 10) }) // { least: 2, most: 8 }
 */
export function rangeBed(sides: Sides, bed: NodeGrid): { least: number; most: number } {
  let [least, most] = [Infinity, -Infinity];
  const addTile = ({ left, right, bottom, top }: Sides) => {
    for (const along of [left, right]) {
      for (const up of [bottom, top]) {
        const bedMm = sampleNodes(bed, along, up);
        least = Math.min(least, bedMm);
        most = Math.max(most, bedMm);
      }
    }
  };
  visitTiles(sides, [], addTile, bed.stepMm);
  return { least, most };
}
