import { FOUND_CORRELATED_PX } from '../line/correlation.ts';
import { sortFew } from '../line/running.ts';

/** Offsets along a line (mm, ordered by `s`) with the sigma of their own noise. */
export interface SmoothedOffsets {
  readonly out: Float64Array;
  readonly noise: Float64Array;
}

/** Reach of the smoothing along the line (mm, sd of its weights): less than the width of a mortar joint. */
const REACH_MM = 6;
/** Points further off than this many reaches have no weight worth counting. */
const REACHES = 2.5;
/** A neighbour whose offset differs by so many sigmas stands behind a step, not in the noise. */
const STEP_SIGMAS = 2.5;
/** The offset a point is compared by is the median of so many points to either side and itself. */
const PILOT_POINTS = 3;

/**
 * Takes speckle off the offsets along a line without rounding its steps: means of neighbours weighted by their distance
 * along the line and by how alike their offsets are (Tomasi & Manduchi 1998, "Bilateral filtering", eq. 8), compared by a
 * local median. `s`, `out` and the points' noise sigma in mm, ordered by `s`; the noise that comes back counts one
 * independent value in six points, of which there is one per px.
 */
export function smoothOffsets(s: Float64Array, out: Float64Array, noise: Float64Array): SmoothedOffsets {
  const count = s.length;
  const pilot = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const from = Math.max(0, k - PILOT_POINTS);
    const near = sortFew(out, from, Math.min(count, k + PILOT_POINTS + 1));
    pilot[k] = near[near.length >> 1]!;
  }
  const smooth = new Float64Array(count);
  const left = new Float64Array(count);
  let first = 0;
  for (let k = 0; k < count; k++) {
    while (s[k]! - s[first]! > REACHES * REACH_MM) first++;
    let sum = 0;
    let total = 0;
    let squares = 0;
    for (let j = first; j < count && s[j]! - s[k]! <= REACHES * REACH_MM; j++) {
      const along = (s[j]! - s[k]!) / REACH_MM;
      const across = (pilot[j]! - pilot[k]!) / (STEP_SIGMAS * noise[k]!);
      const weight = Math.exp(-0.5 * (along * along + across * across));
      sum += weight * out[j]!;
      total += weight;
      squares += weight * weight;
    }
    smooth[k] = sum / total;
    left[k] = noise[k]! * Math.min(1, Math.sqrt(FOUND_CORRELATED_PX * squares) / total);
  }
  return { out: smooth, noise: left };
}
