import { measureNodeAreas } from '../../next/nodeAreas.ts';
import type { HackedSpot } from '../../liningPlan.ts';
import type { Surface } from '../../results.ts';
import type { Wall, WallSpot } from '../../survey.ts';
import { rectOf } from '../rects.ts';
import type { WallNodes } from './wallNodes.ts';

/**
 * What comes off at each spot: where most, the rectangle round it and its area; a node in two spots belongs to the nearer. Spots
 * where nothing comes off are left out. `middles`: the spots' middles, named h1, h2, .. in their order; `hackedMm`: what comes off at
 * each node.
 */
export function listHackedSpots(
  surface: Surface,
  wall: Wall,
  nodes: WallNodes,
  hackedMm: Float64Array,
  middles: readonly WallSpot[],
): HackedSpot[] {
  if (middles.length === 0) return [];
  const areasM2 = measureNodeAreas(surface, wall);
  const half = surface.stepMm / 2;
  const distance = (spot: WallSpot, i: number) =>
    Math.hypot(spot.along - nodes.along[i]!, spot.up - nodes.up[i]!);
  const cut = [...hackedMm.keys()].filter((i) => hackedMm[i]! > 0);
  const nearest = cut.map((i) =>
    middles.reduce((best, spot, k) => (distance(spot, i) < distance(middles[best]!, i) ? k : best), 0),
  );
  return middles.flatMap(({ along, up }, k): HackedSpot[] => {
    const own = cut.filter((_, at) => nearest[at] === k);
    if (own.length === 0) return [];
    const deepest = own.reduce((best, i) => (hackedMm[i]! > hackedMm[best]! ? i : best));
    const range = (at: Float64Array, most: number) => {
      // The grid's last nodes may stand beyond the wall: they count as its end.
      const places = own.map((i) => Math.min(at[i]!, most));
      return [Math.max(0, Math.min(...places) - half), Math.min(most, Math.max(...places) + half)] as const;
    };
    const [left, right] = range(nodes.along, wall.width);
    const [bottom, top] = range(nodes.up, wall.height);
    const area = rectOf({ left, right, bottom, top });
    return [
      {
        id: `h${k + 1}`,
        along,
        up,
        deepest: {
          along: Math.min(nodes.along[deepest]!, wall.width),
          up: Math.min(nodes.up[deepest]!, wall.height),
        },
        area,
        // Nodes beyond the wall stand for no area of their own: the rectangle is what there is.
        areaM2: own.reduce((sum, i) => sum + areasM2[nodes.node[i]!]!, 0) || (area.width * area.height) / 1e6,
        depthMm: hackedMm[deepest]!,
      },
    ];
  });
}
