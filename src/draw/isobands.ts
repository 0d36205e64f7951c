import { contours } from 'd3';
import { fillNodes, type NodeGrid } from '../core/lining/nodeGrid.ts';
import type { Sides } from '../core/lining/rects.ts';
import { clipRing, type Point, type Ring } from './rings.ts';

/** Rings of nodes set round the grid, so that d3's closing edges, half a cell outside, lie beyond the wall. */
const PAD = 2;

/** The filled grid with its edge values repeated outwards: contours leave the wall square to its edge, and run on
 *  through the nodes of openings, where the wall is not known, instead of falling to bits beside them. */
function padNodes(grid: NodeGrid): { readonly nx: number; readonly ny: number; readonly values: number[] } {
  const filled = fillNodes(grid).values;
  const nx = grid.nx + 2 * PAD;
  const ny = grid.ny + 2 * PAD;
  const within = (index: number, count: number) => Math.min(Math.max(index - PAD, 0), count - 1);
  const values = Array.from(
    { length: nx * ny },
    (_, k) => filled[within(Math.floor(k / nx), grid.ny) * grid.nx + within(k % nx, grid.nx)]!,
  );
  return { nx, ny, values };
}

/** The part of the wall where the values reach a level: rings in wall mm, to be filled by the even-odd rule. */
export interface AtLeast {
  readonly level: number;
  readonly rings: readonly Ring[];
}

/**
 * For each level the part of `frame` (mm) where the values are at or above it, linear between nodes. A node that is not
 * known takes after its neighbours; with nothing known every part is empty.
 */
export function traceLevels(grid: NodeGrid, levels: readonly number[], frame: Sides): AtLeast[] {
  if (grid.values.every(Number.isNaN)) return levels.map((level) => ({ level, rings: [] }));
  const { nx, ny, values } = padNodes(grid);
  const tracer = contours().size([nx, ny]);
  // d3 puts node (i, j) at (i + 0.5, j + 0.5)
  const toWall = (at: number) => (at - 0.5 - PAD) * grid.stepMm;
  return levels.map((level) => {
    const { coordinates } = tracer.contour(values, level);
    const rings = coordinates.flatMap((polygon) =>
      polygon.map((ring) => ring.map(([x, y]): Point => [toWall(x!), toWall(y!)])),
    );
    return { level, rings: rings.map((ring) => clipRing(ring, frame)).filter((ring) => ring.length > 2) };
  });
}
