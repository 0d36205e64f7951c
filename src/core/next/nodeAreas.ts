import { sidesOf, visitTiles } from '../lining/rects.ts';
import type { Surface } from '../results.ts';
import type { Wall } from '../survey.ts';

/**
 * Area (m2) of wall that each node of a surface stands for: what lies nearer to it than to any other, cut at the wall's ends and
 * at openings; 0 where the node is no wall.
 */
export function measureNodeAreas({ stepMm, nx, out }: Surface, wall: Wall): Float64Array {
  const areas = new Float64Array(out.length);
  // moved by half a step, a node's own square is a cell of the grid
  const half = stepMm / 2;
  const frame = { left: half, right: wall.width + half, bottom: half, top: wall.height + half };
  const holes = wall.openings.map((opening) =>
    sidesOf({ ...opening, along: opening.along + half, up: opening.up + half }),
  );
  visitTiles(
    frame,
    holes,
    ({ left, right, bottom, top }) => {
      const at = Math.floor((bottom + top) / (2 * stepMm)) * nx + Math.floor((left + right) / (2 * stepMm));
      if (!Number.isNaN(out[at]!)) areas[at]! += ((right - left) * (top - bottom)) / 1e6;
    },
    stepMm,
  );
  return areas;
}
