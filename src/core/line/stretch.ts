import { FOUND_CORRELATED_PX } from './correlation.ts';

/** A short stretch of a photographed line, averaged: image point (px), its sigma across the line (px), number of points. */
export interface Stretch {
  readonly u: number;
  readonly v: number;
  readonly sigmaPx: number;
  readonly count: number;
}

/** Points of a line, in any order: place along the line and offset (mm), image point and sigma across the line (px). */
export interface LineSamples {
  readonly s: Float64Array;
  readonly out: Float64Array;
  readonly u: Float64Array;
  readonly v: Float64Array;
  readonly sigmaPx: Float64Array;
}

/** Variance of a mean of the middle half of normal values over that of their plain mean (computed by simulation). */
const MIDDLE_HALF_VARIANCE = 1.2;
/** What no averaging removes: shading, texture (common practice, no source). */
const FLOOR_PX = 0.03;

/** Mean of some points (their indices, in order along the line): that of the middle half by offset, with its sigma. */
export function averageStretch(samples: LineSamples, points: readonly number[]): Stretch {
  const count = points.length;
  const ranked = [...points].sort((a, b) => samples.out[a]! - samples.out[b]! || a - b);
  const cut = Math.floor(count / 4);
  const middle = ranked.slice(cut, count - cut);
  const mean = (values: Float64Array, of: readonly number[]) =>
    of.reduce((sum, k) => sum + values[k]!, 0) / of.length;
  const first = points[0]!;
  const last = points[count - 1]!;
  const lengthPx = Math.hypot(samples.u[last]! - samples.u[first]!, samples.v[last]! - samples.v[first]!);
  const independent = Math.max(1, Math.min(count, lengthPx / FOUND_CORRELATED_PX));
  const inflation = cut > 0 ? MIDDLE_HALF_VARIANCE : 1;
  const square = points.reduce((sum, k) => sum + samples.sigmaPx[k]! ** 2, 0) / count;
  return {
    u: mean(samples.u, middle),
    v: mean(samples.v, middle),
    sigmaPx: Math.sqrt((square * inflation) / independent + FLOOR_PX ** 2),
    count,
  };
}
