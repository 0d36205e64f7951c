import type { Triangulation } from '../../core/camera/triangulate.ts';
import type { Profile } from '../../core/results.ts';

/**
 * A line's wall offsets in rising order along its run in the picture: `px` where seen, `s` along the wall (mm), `out` (mm) with
 * the sigma that the point's own sigma in the picture makes (mm), and `index` of the point in the line.
 */
export interface Run {
  readonly px: Float64Array;
  readonly s: Float64Array;
  readonly out: Float64Array;
  readonly sigma: Float64Array;
  readonly index: Int32Array;
}

/** A triangulated line put in rising order along its run in the picture. */
export function orderRun(found: Triangulation, axis: 'u' | 'v'): Run {
  const order = Array.from(found.index.keys()).sort((a, b) => found[axis][a]! - found[axis][b]!);
  const pick = (values: Float64Array) => Float64Array.from(order, (at) => values[at]!);
  return {
    px: pick(found[axis]),
    s: pick(found.s),
    out: pick(found.out),
    sigma: Float64Array.from(order, (at) => found.sigmaPx[at]! * found.outPerPx[at]!),
    index: Int32Array.from(order, (at) => found.index[at]!),
  };
}

/** Index of the first of rising numbers that is not below `value`; their count when all are. @example findPlace([1, 3], 2) // 1 */
export function findPlace(rising: ArrayLike<number>, value: number): number {
  let [low, high] = [0, rising.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rising[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Value at `at` between rising places, straight from one to the next; NaN outside them. @example interpolate([0, 2], [10, 20], 1) // 15 */
export function interpolate(places: ArrayLike<number>, values: ArrayLike<number>, at: number): number {
  const after = findPlace(places, at);
  if (places[after] === at) return values[after]!;
  if (after === 0 || after === places.length) return NaN;
  const [a, b] = [places[after - 1]!, places[after]!];
  return values[after - 1]! + ((at - a) / (b - a)) * (values[after]! - values[after - 1]!);
}

/** A straight line in `s`: what the joint solution moves a photographed line by. */
export interface Shift {
  readonly out: number;
  readonly slope: number;
}

export const NO_SHIFT: Shift = { out: 0, slope: 0 };

/**
 * The shift and tilt (least squares) by which the solved profile differs from what the photograph alone says, so that the
 * two can be drawn together; none where fewer than two points are common.
 */
export function fitShift(run: Run, solved: Profile, axis: 'u' | 'v'): Shift {
  const order = Array.from(solved.s.keys()).sort((a, b) => solved[axis][a]! - solved[axis][b]!);
  const px = order.map((at) => solved[axis][at]!);
  const out = order.map((at) => solved.out[at]!);
  let [n, sumS, sumD, sumSS, sumSD] = [0, 0, 0, 0, 0];
  for (let i = 0; i < run.px.length; i++) {
    const difference = interpolate(px, out, run.px[i]!) - run.out[i]!;
    if (!Number.isFinite(difference)) continue;
    const s = run.s[i]!;
    n++;
    sumS += s;
    sumD += difference;
    sumSS += s * s;
    sumSD += s * difference;
  }
  const spread = n * sumSS - sumS * sumS;
  if (n < 2 || spread <= 0) return NO_SHIFT;
  const slope = (n * sumSD - sumS * sumD) / spread;
  return { out: (sumD - slope * sumS) / n, slope };
}

/** The range that all but a few outliers of some numbers lie in, widened by a part; NaN for none. */
export function rangeInside(values: readonly number[], outsideShare: number, margin: number, least: number) {
  const sorted = [...values].sort((a, b) => a - b);
  const cut = Math.floor(sorted.length * outsideShare);
  const low = sorted[cut] ?? NaN;
  const high = sorted[sorted.length - 1 - cut] ?? NaN;
  const half = (Math.max(least, high - low) / 2) * (1 + margin);
  return { low: (low + high) / 2 - half, high: (low + high) / 2 + half };
}
