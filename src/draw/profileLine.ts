import type { Profile } from '../core/results.ts';

/** A profile in even steps along its line; NaN where the line was not seen. */
export interface EvenProfile {
  readonly s: Float64Array;
  readonly out: Float64Array;
  readonly sigma: Float64Array;
}

/**
 * Means of a profile over steps of `stepMm` along its line; a step without points is NaN, so that gaps stay gaps.
 * @example evenProfile({ s: [1, 3, 21], out: [5, 7, 9], sigma: [1, 1, 1] }, 10).out // Float64Array.of(6, NaN, 9)
 */
export function evenProfile(
  { s, out, sigma }: Record<'s' | 'out' | 'sigma', ArrayLike<number>> | Profile,
  stepMm: number,
): EvenProfile {
  let [least, most] = [Infinity, -Infinity];
  for (let k = 0; k < s.length; k++) [least, most] = [Math.min(least, s[k]!), Math.max(most, s[k]!)];
  const first = Math.floor(least / stepMm);
  const count = s.length === 0 ? 0 : Math.floor(most / stepMm) - first + 1;
  const sums = {
    out: new Float64Array(count),
    sigma: new Float64Array(count),
    points: new Float64Array(count),
  };
  for (let k = 0; k < s.length; k++) {
    const step = Math.floor(s[k]! / stepMm) - first;
    sums.out[step]! += out[k]!;
    sums.sigma[step]! += sigma[k]!;
    sums.points[step]! += 1;
  }
  // 0 / 0 is the NaN of an empty step
  return {
    s: sums.points.map((_, step) => (first + step + 0.5) * stepMm),
    out: sums.out.map((sum, step) => sum / sums.points[step]!),
    sigma: sums.sigma.map((sum, step) => sum / sums.points[step]!),
  };
}

/** Runs of consecutive steps that are not NaN, as [first, last] indices. */
export function listRuns(values: ArrayLike<number>): [number, number][] {
  const runs: [number, number][] = [];
  for (let k = 0; k < values.length; k++) {
    if (Number.isNaN(values[k]!)) continue;
    const last = runs.at(-1);
    if (last && last[1] === k - 1) last[1] = k;
    else runs.push([k, k]);
  }
  return runs;
}
