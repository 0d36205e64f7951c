/**
 * One linear observation: field * f(along, up) + sum factors_k * unknown_k = target + noise of `sigma`. f is trend plus field;
 * the unknowns are corrections to cameras, lenses and sheets (unknowns.ts). field = 0: says nothing of the wall.
 */
export interface Observation {
  readonly kind: 'point' | 'reading' | 'mark' | 'prior' | 'guard';
  /** Index of the line, reading or mark it belongs to; of a prior or guard, the unknown it holds. */
  readonly subject: number;
  readonly along: number;
  readonly up: number;
  readonly field: number;
  readonly unknowns: readonly number[];
  readonly factors: readonly number[];
  readonly target: number;
  readonly sigma: number;
  /** How much of the wall's roughness adds to the noise: its factor on the roughness's sd. */
  readonly roughness: number;
}

/** The trend t0 + t1 along + t2 up: three unknowns, always the first. along and up in m, so that all are mm. */
export const TREND = 3;
const TREND_UNIT_MM = 1000;

/** Factors of the trend's three unknowns at a place (mm). @example listTrendFactors(2000, 500) // [1, 2, 0.5] */
export function listTrendFactors(alongMm: number, upMm: number): [number, number, number] {
  return [1, alongMm / TREND_UNIT_MM, upMm / TREND_UNIT_MM];
}

/** A prior on one unknown: unknown = target, with its sigma and its share of the roughness. */
export function holdUnknown(unknown: number, target: number, sigma: number, roughness = 0): Observation {
  return { ...guardUnknown(unknown, sigma), kind: 'prior', target, roughness };
}

/** No evidence, only a guard against an unknown that nothing holds: unknown = 0 with a sigma beyond all reason. */
export function guardUnknown(unknown: number, sigma: number): Observation {
  return {
    kind: 'guard',
    subject: unknown,
    along: 0,
    up: 0,
    field: 0,
    unknowns: [unknown],
    factors: [1],
    target: 0,
    sigma,
    roughness: 0,
  };
}
