import type { BedPlane, Surface } from '../../results.ts';

/** The nodes of a surface where there is wall to line, all arrays of one length. */
export interface WallNodes {
  /** Which node of the surface's grid each is. */
  readonly node: Int32Array;
  /** Where it is, and how far out the masonry stands there (mm). */
  readonly along: Float64Array;
  readonly up: Float64Array;
  readonly out: Float64Array;
  /** Least bed asked there (mm). */
  readonly needMm: Float64Array;
}

/**
 * Least bed asked at every node of the surface (mm): the minimum, and so many sigmas more; NaN where there is no wall.
 * @example askBed({ stepMm: 50, nx: 2, ny: 1, out: Float64Array.of(-60, NaN), sigma: Float64Array.of(0.5, NaN) }, 5, 2) // Float64Array.of(6, NaN)
 */
export function askBed({ out, sigma }: Surface, minBedMm: number, sigmas: number): Float64Array {
  return out.map((outMm, k) =>
    Number.isNaN(outMm) ? NaN : minBedMm + (sigmas > 0 ? sigmas * sigma[k]! : 0),
  );
}

/** The known nodes of a lined surface with the bed asked of each. `needMm`: at the surface's nodes. */
export function gatherNodes({ stepMm, nx, out }: Surface, needMm: Float64Array): WallNodes {
  const node = Int32Array.from([...out.keys()].filter((k) => !Number.isNaN(out[k]!)));
  return {
    node,
    along: Float64Array.from(node, (k) => (k % nx) * stepMm),
    up: Float64Array.from(node, (k) => Math.floor(k / nx) * stepMm),
    out: Float64Array.from(node, (k) => out[k]!),
    needMm: Float64Array.from(node, (k) => needMm[k]!),
  };
}

/** The bed of the wall as hacked at the surface's nodes (mm), NaN where there is no wall. */
export function spreadBed(
  { out, stepMm, nx }: Surface,
  { node }: WallNodes,
  { plane: { p, q, r }, hackedMm }: { readonly plane: BedPlane; readonly hackedMm: Float64Array },
): Float64Array {
  const bed = out.map((mm, k) => p + q * (k % nx) * stepMm + r * Math.floor(k / nx) * stepMm - mm);
  node.forEach((k, i) => (bed[k]! += hackedMm[i]!));
  return bed;
}
