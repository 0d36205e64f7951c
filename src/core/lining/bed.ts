import type { BedPlane, Surface, Zone } from '../results.ts';
import type { Lining } from '../survey.ts';

/** How far out the bed plane stands at a spot (mm). @example planeOut({ p: -50, q: 0.002, r: 0 }, 500, 0) // -49 */
export function planeOut({ p, q, r }: BedPlane, along: number, up: number): number {
  return p + q * along + r * up;
}

/** Bed depth (mm) at the surface's nodes, same order; NaN where there is no wall. */
export function measureBed({ stepMm, nx, out }: Surface, plane: BedPlane): Float64Array {
  return out.map((wallOut, k) => planeOut(plane, (k % nx) * stepMm, Math.floor(k / nx) * stepMm) - wallOut);
}

/** The zones from the shallowest bed to the deepest. */
export const zoneOrder: readonly Zone[] = ['thin', 'normal', 'packed', 'beyond'];

/** A bed that is at a limit up to rounding is within it (mm). */
const rounding = 1e-6;

/**
 * Where one zone ends and the next begins (mm): below the minimum, up to the adhesive's most, up to the most over packing.
 * Limits in the wrong order count as the highest before them.
 */
export function zoneEnds({ min, max, packedMax }: Lining['bed']): readonly [number, number, number] {
  const normalEnd = Math.max(min, max) + rounding;
  return [min - rounding, normalEnd, Math.max(normalEnd, packedMax + rounding)];
}

/**
 * The zone of a bed depth (mm).
 * @example zoneOf(20, { min: 5, max: 20, packedMax: 40 }) // 'normal'
 */
export function zoneOf(bedMm: number, limits: Lining['bed']): Zone {
  const below = zoneEnds(limits).filter((end) => bedMm > end).length;
  return zoneOrder[below]!;
}
