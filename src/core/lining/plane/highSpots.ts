import type { BedPlane } from '../../results.ts';
import type { WallSpot } from '../../survey.ts';
import type { Removal } from './planeProgramme.ts';
import type { WallNodes } from './wallNodes.ts';

/**
 * Middles of the high spots, those that stand nearest the plane first, at most `most`: each the node that stands nearest of all that lie
 * further than `radiusMm` from the middles before it. So the discs about them cover whatever stands out more than the last of them.
 */
export function findHighSpots(
  { along, up, out, needMm }: WallNodes,
  { p, q, r }: BedPlane,
  radiusMm: number,
  most: number,
): WallSpot[] {
  const spare = out.map((mm, i) => p + q * along[i]! + r * up[i]! - mm - needMm[i]!);
  const order = [...out.keys()].sort((a, b) => spare[a]! - spare[b]! || a - b);
  const middles: WallSpot[] = [];
  for (const i of order) {
    if (middles.length === most) break;
    const isNear = middles.some((each) => Math.hypot(each.along - along[i]!, each.up - up[i]!) <= radiusMm);
    if (!isNear) middles.push({ along: along[i]!, up: up[i]! });
  }
  return middles;
}

/**
 * The removal of the discs about `middles`, each as deep as `depthMm`.
 * @example allowRemoval({ node: Int32Array.of(0, 1), along: Float64Array.of(0, 50), up: Float64Array.of(0, 0), out: Float64Array.of(-60, -60), needMm: Float64Array.of(5, 5) }, [{ along: 0, up: 0 }], { hackRadiusMm: 20, hackDepthMm: 30 }).covers // [[0], []]
 */
export function allowRemoval(
  { along, up }: WallNodes,
  middles: readonly WallSpot[],
  { hackRadiusMm, hackDepthMm }: { readonly hackRadiusMm: number; readonly hackDepthMm: number },
): Removal {
  const covers = Array.from(along, (x, i) => {
    const spots: number[] = [];
    for (let k = 0; k < middles.length; k++) {
      const middle = middles[k]!;
      // most are far off along the wall already
      if (Math.abs(middle.along - x) > hackRadiusMm) continue;
      if (Math.hypot(middle.along - x, middle.up - up[i]!) <= hackRadiusMm) spots.push(k);
    }
    return spots;
  });
  return { covers, count: middles.length, depthMm: hackDepthMm };
}
