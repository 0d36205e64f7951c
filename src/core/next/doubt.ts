import { zoneEnds } from '../lining/bed.ts';
import type { Lining } from '../survey.ts';
import { normalBelow } from './normal.ts';

/** The three depths that part the zones of a bed (mm), from `zoneEnds`. */
export type ZoneEnds = ReturnType<typeof zoneEnds>;

/** Chances of the bed decision at the surface's nodes, each 0 to 1, NaN where there is no wall. */
export interface Chances {
  /** Of a bed under the minimum. */
  readonly thin: Float64Array;
  /** Of a bed over the adhesive's most, so that it needs packing. */
  readonly overMax: Float64Array;
  /** Of a bed over what packing can take. */
  readonly overPacked: Float64Array;
}

/** Sigmas are not taken smaller than this (mm): a bed known exactly is in its zone without doubt. */
const LEAST_SIGMA_MM = 1e-9;

/** Chances of the bed decision at every node from the bed and its sigma (mm, same order). */
export function listChances(bed: Float64Array, sigma: Float64Array, limits: Lining['bed']): Chances {
  const ends = zoneEnds(limits);
  const below = ends.map((end) =>
    bed.map((depth, k) => normalBelow((end - depth) / Math.max(sigma[k]!, LEAST_SIGMA_MM))),
  ) as [Float64Array, Float64Array, Float64Array];
  return { thin: below[0], overMax: below[1].map((p) => 1 - p), overPacked: below[2].map((p) => 1 - p) };
}

/**
 * Chance that a spot is judged into the wrong zone: 1 less the chance of its most probable zone.
 * @example Math.round(findDoubt(20, 1, [5, 20, 40]) * 1e6) / 1e6 // 0.5
 */
export function findDoubt(bedMm: number, sigmaMm: number, ends: ZoneEnds): number {
  const s = Math.max(sigmaMm, LEAST_SIGMA_MM);
  const a = normalBelow((ends[0] - bedMm) / s);
  const b = normalBelow((ends[1] - bedMm) / s);
  const c = normalBelow((ends[2] - bedMm) / s);
  return 1 - Math.max(a, b - a, c - b, 1 - c);
}

/** Places (in sigmas of the mean to come) that the expectation is taken at, and their shares: the trapezoidal rule. */
interface Rule {
  readonly places: Float64Array;
  readonly shares: Float64Array;
}

function makeRule(step: number, count: number): Rule {
  const places = Float64Array.from({ length: 2 * count + 1 }, (_, k) => step * (k - count));
  const raw = places.map((z) => Math.exp(-0.5 * z * z));
  const whole = raw.reduce((sum, share) => sum + share, 0);
  return { places, shares: raw.map((share) => share / whole) };
}

/** The doubt has a kink at each limit, as wide as the sigma that is left: where the mean moves by more than 0.6 of that, finer steps. */
const COARSE = makeRule(0.7, 5);
const FINE = makeRule(0.25, 14);
const SMALL_MOVE = 0.6;

/**
 * Doubt to be expected of a spot once its sigma has fallen from `sigmaMm` to `afterMm`: the mean that will then be found is still
 * unknown, normal about the present one with what the variance falls by.
 * Source: preposterior analysis, Raiffa & Schlaifer 1961, Applied Statistical Decision Theory, 4 and 5.
 */
export function expectDoubt(bedMm: number, sigmaMm: number, afterMm: number, ends: ZoneEnds): number {
  const moves = Math.sqrt(Math.max(0, sigmaMm ** 2 - afterMm ** 2));
  const { places, shares } = moves < SMALL_MOVE * afterMm ? COARSE : FINE;
  let doubt = 0;
  for (let k = 0; k < places.length; k++)
    doubt += shares[k]! * findDoubt(bedMm + moves * places[k]!, afterMm, ends);
  return doubt;
}
