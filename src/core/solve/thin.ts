import { sortFew } from '../line/running.ts';
import { averageStretch, type LineSamples, type Stretch } from '../line/stretch.ts';

/** Length of a stretch, mm. */
export const STRETCH_MM = 20;
/** A hole this long, or of so many usual spacings, is a gap. */
const GAP_MM = 10;
const GAP_SPACINGS = 4;
/** Points compared to either side of a possible step, and what makes it one. */
const STEP_POINTS = 6;
const STEP_MM = 1.5;
const STEP_SIGMAS = 5;
/**
 * Thins a line to stretches of about 20 mm, each the mean of the middle half of its points by offset (robust, and nearly as
 * sharp as a mean), never across a gap or a step. Its sigma counts one independent value per 3 px, not one per point.
 */
export function thinLine(samples: LineSamples): Stretch[] {
  const order = Array.from(samples.s.keys()).sort((a, b) => samples.s[a]! - samples.s[b]! || a - b);
  const ends = findBreaks(samples, order);
  const stretches: Stretch[] = [];
  let start = 0;
  for (const end of ends) {
    const last = samples.s[order[end - 1]!]! - STRETCH_MM / 2;
    // cut at whole multiples, so that a change somewhere changes no stretch elsewhere; no end shorter than half a stretch
    let cut = STRETCH_MM * Math.ceil(samples.s[order[start]!]! / STRETCH_MM + 0.5);
    let first = start;
    while (first < end) {
      let next = first;
      while (next < end && (cut > last || samples.s[order[next]!]! < cut)) next++;
      if (next > first) stretches.push(averageStretch(samples, order.slice(first, next)));
      first = next;
      cut += STRETCH_MM;
    }
    start = end;
  }
  return stretches;
}

/** Ends (exclusive, in the sorted order) of the runs without gap or step. */
function findBreaks(samples: LineSamples, order: readonly number[]): number[] {
  const count = order.length;
  if (count === 0) return [];
  const s = order.map((k) => samples.s[k]!);
  const out = order.map((k) => samples.out[k]!);
  const spacings = s.slice(1).map((value, k) => value - s[k]!);
  const gap = Math.max(GAP_MM, GAP_SPACINGS * findMedian(spacings));
  const ends: number[] = [];
  let start = 0;
  for (let k = 1; k <= count; k++) {
    if (k < count && spacings[k - 1]! <= gap) continue;
    ends.push(...findSteps(out, start, k), k);
    start = k;
  }
  return ends;
}

/** Places in a run where the medians of the points before and after differ by a step; the sharpest place of each. */
function findSteps(out: readonly number[], start: number, end: number): number[] {
  if (end - start < 2 * STEP_POINTS) return [];
  const run = out.slice(start, end);
  const changes = run.slice(1).map((value, k) => Math.abs(value - run[k]!));
  const noise = findMedian(changes) / 0.6745 / Math.SQRT2;
  const least = Math.max(STEP_MM, STEP_SIGMAS * noise);
  const steps: number[] = [];
  let best = 0;
  let bestAt = -1;
  for (let k = STEP_POINTS; k <= run.length - STEP_POINTS; k++) {
    const jump = Math.abs(
      takeMiddle(sortFew(run, k, k + STEP_POINTS)) - takeMiddle(sortFew(run, k - STEP_POINTS, k)),
    );
    if (jump > least && jump > best) {
      best = jump;
      bestAt = k;
    }
    const over = jump <= least || k === run.length - STEP_POINTS || k - bestAt >= STEP_POINTS;
    if (bestAt >= 0 && over) {
      steps.push(start + bestAt);
      best = 0;
      bestAt = -1;
    }
  }
  return steps;
}

/** Median of some numbers; 0 of none. */
function findMedian(values: readonly number[]): number {
  if (values.length === 0) return 0;
  return takeMiddle(Float64Array.from(values).sort());
}

/** The median of values in rising order. */
function takeMiddle(sorted: ArrayLike<number>): number {
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
