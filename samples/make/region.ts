import type { Noise } from './noise.ts';

/** An oval on the wall with a torn edge (mm). */
export interface Region {
  readonly along: number;
  readonly up: number;
  readonly radiusAlong: number;
  readonly radiusUp: number;
}

/** Depth where no region is near. */
export const OUTSIDE_MM = -300;

/**
 * How far inside the nearest region a place lies (mm, negative outside); the outline is torn by about `tornMm`.
 */
export function depthInRegions(
  regions: readonly Region[],
  noise: Noise,
  tornMm: number,
  along: number,
  up: number,
): number {
  let depth = OUTSIDE_MM;
  for (const region of regions) {
    const x = (along - region.along) / region.radiusAlong;
    const y = (up - region.up) / region.radiusUp;
    const square = x * x + y * y;
    if (square > 4) continue;
    const smaller = Math.min(region.radiusAlong, region.radiusUp);
    depth = Math.max(depth, (1 - Math.sqrt(square)) * smaller);
  }
  if (depth < -2 * tornMm) return depth;
  const torn =
    noise(along / 110, up / 90) + 0.45 * noise(along / 31 + 7, up / 27) + 0.2 * noise(along / 9, up / 9 + 3);
  return depth + tornMm * torn;
}
