/**
 * One linear observation: field * f(along, up) + sum factors_k * unknown_k = target + noise of `sigma`. f is trend plus field;
 * the unknowns are corrections to cameras, lenses and sheets (unknowns.ts). field = 0: says nothing of the wall.
 */
export interface Observation {
  readonly kind: 'point' | 'reading' | 'mark' | 'block' | 'prior' | 'guard';
  /** Index of the line, reading, mark or packer it belongs to; of a prior or guard, the unknown it holds. */
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

/**
 * The trend t0 + t1 along + t2 up + t3 along up (distance, turn, lean, twist): four unknowns, always the first. along and up in m,
 * so that all are mm. The field, fitted to the unevenness between lines, cannot take a wall's twist as well.
 */
export const TREND_UNKNOWNS: readonly number[] = [0, 1, 2, 3];
export const TREND = TREND_UNKNOWNS.length;
const TREND_UNIT_MM = 1000;

/** Factors of the trend's four unknowns at a place (mm). @example listTrendFactors(2000, 500) // [1, 2, 0.5, 1] */
export function listTrendFactors(alongMm: number, upMm: number): [number, number, number, number] {
  const x = alongMm / TREND_UNIT_MM;
  const y = upMm / TREND_UNIT_MM;
  return [1, x, y, x * y];
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
