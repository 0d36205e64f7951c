import { refuse } from '../refusal.ts';
import type { Reading } from '../survey.ts';
import { leastSquares } from '../checks/leastSquares.ts';

/** A plane out = p + q along + r up (mm, mm per mm), as far as it is known. */
export interface WallPlane {
  readonly p: number;
  readonly q: number;
  readonly r: number;
}

/** Readings nearer than this to one straight line do not hold a plane (mm). */
const LEAST_SPREAD_MM = 50;

/**
 * Stops readings that cannot hold the wall's lean and distance; none at all is fine (then both are unknown).
 * @throws readings_few, readings_in_line
 */
export function checkReadings(readings: readonly Reading[]): void {
  const count = readings.length;
  if (count === 1 || count === 2) refuse({ code: 'readings_few', count });
  if (count > 0 && !holdPlane(readings)) refuse({ code: 'readings_in_line', count });
}

/** Whether readings hold a plane: at least three, not in one line. */
export function holdPlane(readings: readonly Reading[]): boolean {
  return readings.length >= 3 && spreadAcross(readings) >= LEAST_SPREAD_MM;
}

/** How far the readings reach across the straight line that fits their places best (mm). */
function spreadAcross(readings: readonly Reading[]): number {
  const n = readings.length;
  const x = readings.reduce((sum, reading) => sum + reading.along / n, 0);
  const y = readings.reduce((sum, reading) => sum + reading.up / n, 0);
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (const { along, up } of readings) {
    xx += (along - x) ** 2;
    xy += (along - x) * (up - y);
    yy += (up - y) ** 2;
  }
  const angle = 0.5 * Math.atan2(2 * xy, xx - yy);
  const across = readings.map(({ along, up }) => (up - y) * Math.cos(angle) - (along - x) * Math.sin(angle));
  return Math.max(...across) - Math.min(...across);
}

/** Least-squares plane through places on the wall and their offsets (mm); at least three, not in a line. */
export function fitPlane(places: readonly { along: number; up: number; out: number }[]): WallPlane {
  // metres, so that the three columns are of one size
  const design = Float64Array.from(places.flatMap(({ along, up }) => [1, along / 1000, up / 1000]));
  const fit = leastSquares(
    design,
    3,
    Float64Array.from(places, ({ out }) => out),
  );
  return { p: fit.solution[0]!, q: fit.solution[1]! / 1000, r: fit.solution[2]! / 1000 };
}

/** Offset of a plane at a place on the wall (mm). @example evaluatePlane({ p: 1, q: 0.5, r: 0 }, 10, 0) // 6 */
export function evaluatePlane({ p, q, r }: WallPlane, alongMm: number, upMm: number): number {
  return p + q * alongMm + r * upMm;
}
