import type { HighPoint, Surface } from '../results.ts';
import type { Wall } from '../survey.ts';

/** A node is as near to the plane as the nearest when the difference is less than this (mm). */
const touching = 1e-6;

/** Nodes grouped with their touching neighbours (all eight round each). */
function groupNodes(nodes: readonly number[], nx: number): number[][] {
  const waiting = new Set(nodes);
  const groups: number[][] = [];
  for (const start of nodes) {
    if (!waiting.delete(start)) continue;
    const group = [start];
    for (let at = 0; at < group.length; at++) {
      const k = group[at]!;
      for (let dj = -1; dj <= 1; dj++) {
        for (let di = -1; di <= 1; di++) {
          const i = (k % nx) + di;
          const next = k + dj * nx + di;
          if (i >= 0 && i < nx && waiting.delete(next)) group.push(next);
        }
      }
    }
    groups.push(group);
  }
  return groups;
}

/** The node of a group that lies nearest its middle; the first in the grid's order among equals. */
function chooseMiddle(group: readonly number[], nx: number): number {
  const along = group.reduce((sum, k) => sum + (k % nx), 0) / group.length;
  const up = group.reduce((sum, k) => sum + Math.floor(k / nx), 0) / group.length;
  const distance = (k: number) => Math.hypot((k % nx) - along, Math.floor(k / nx) - up);
  return group.reduce((best, k) => ((distance(k) - distance(best) || k - best) < 0 ? k : best));
}

/**
 * The high points: where the wall stands nearest to the boards, so that the bed plane rests on it, from the left; where it rests on
 * none, the spots that come nearest to what is asked. Nodes side by side count as one spot; masonry that is hacked off carries nothing.
 * `bed` and `needMm`: the bed and the least that is asked of it at the surface's nodes; `hacked`: the nodes where masonry comes off;
 * the grid's last nodes may stand beyond the wall.
 */
export function findHighPoints(
  surface: Surface,
  bed: Float64Array,
  needMm: Float64Array,
  hacked: ReadonlySet<number>,
  wall: Pick<Wall, 'width' | 'height'>,
): HighPoint[] {
  const { nx, stepMm } = surface;
  const known = [...bed.keys()].filter((k) => !Number.isNaN(bed[k]!));
  const whole = known.filter((k) => !hacked.has(k));
  const carrying = whole.length > 0 ? whole : known;
  const spare = (k: number) => bed[k]! - needMm[k]!;
  const least = carrying.reduce((most, k) => Math.min(most, spare(k)), Infinity);
  const nodes = carrying.filter((k) => spare(k) <= least + touching);
  const points = groupNodes(nodes, nx).map((group): HighPoint => {
    const k = chooseMiddle(group, nx);
    return {
      along: Math.min((k % nx) * stepMm, wall.width),
      up: Math.min(Math.floor(k / nx) * stepMm, wall.height),
      out: surface.out[k]!,
      bed: bed[k]!,
      sigma: surface.sigma[k]!,
    };
  });
  return points.sort((a, b) => a.along - b.along || a.up - b.up);
}
