import { fitProjective, placeOf, valueAt, type ProjectiveScale } from './projective.ts';

/**
 * Cycles of a tape's graduation along its strip: the projective scale, and what the wall's relief under the tape and the lens add
 * to it, between knots in straight pieces.
 */
export interface TapeScale {
  readonly projective: ProjectiveScale;
  readonly knots: Float64Array;
  readonly excess: Float64Array;
}

/** The scale through places along the strip (rising) and their cycles. */
export function makeScale(places: ArrayLike<number>, cycles: ArrayLike<number>): TapeScale {
  const projective = fitProjective(places, cycles);
  const knots = Float64Array.from(places);
  return { projective, knots, excess: knots.map((place, i) => cycles[i]! - valueAt(projective, place)) };
}

/** Cycles at a place along the strip; beyond the knots the last excess goes on. */
export function cyclesAt({ projective, knots, excess }: TapeScale, place: number): number {
  return valueAt(projective, place) + interpolate(knots, excess, place);
}

/** Place along the strip of a number of cycles. */
export function placeAt(scale: TapeScale, cycles: number): number {
  let place = placeOf(scale.projective, cycles);
  // the excess changes slowly: each turn leaves its slope's share of the miss
  for (let turn = 0; turn < 4; turn++)
    place = placeOf(scale.projective, cycles - interpolate(scale.knots, scale.excess, place));
  return place;
}

/** Samples per cycle at a place. */
export function periodAt(scale: TapeScale, place: number): number {
  return 2 / (cyclesAt(scale, place + 1) - cyclesAt(scale, place - 1));
}

/** Value at `x` of the pieces between rising knots; the end values beyond them. @example interpolate([0, 2], [1, 5], 1) // 3 */
export function interpolate(knots: ArrayLike<number>, values: ArrayLike<number>, x: number): number {
  let low = 0;
  let high = knots.length - 1;
  if (x <= knots[low]!) return values[low]!;
  if (x >= knots[high]!) return values[high]!;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (knots[middle]! <= x) low = middle;
    else high = middle;
  }
  const share = (x - knots[low]!) / (knots[high]! - knots[low]!);
  return values[low]! + share * (values[high]! - values[low]!);
}
