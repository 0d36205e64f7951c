import type { LineBand } from './lineBand.ts';
import type { Placement } from './placement.ts';
import { backgroundAway } from './profile.ts';
import { medianOf, runningMedian } from './running.ts';

/** Whether the line is there, column by column, and what light it adds to the wall. */
export interface Presence {
  readonly there: Uint8Array;
  /**
   * By how much the laser's own channel, the other of red and green, and blue are above the wall on the line
   * (levels).
   */
  readonly gains: readonly [Float64Array, Float64Array, Float64Array];
  /** By how much more than either other channel the laser's own gains (levels). */
  readonly excess: Float64Array;
  /** The own channel at its brightest on the line (levels). */
  readonly own: Float64Array;
  /** Difference of colour between the wall's two sides (median, levels). */
  readonly excessNoise: number;
}

const ALONG_SIGMA_PX = 2;
/** The line ends where its colour or its light falls below these shares of what they are nearby. */
const COLOUR_SHARE = 0.3;
const LIGHT_SHARE = 0.08;
/** Or, where a clipped core hides the colour, below these. */
const CORE_COLOUR_SHARE = 0.1;
const CORE_LIGHT_SHARE = 0.5;
/**
 * All channels above this level, and this much above the wall's least channel: a core too bright to have a
 * colour.
 */
const CORE_LEVEL = 204;
const CORE_GAIN = 25;
const NEARBY_PX = 150;
/** Smoothing has carried the line this far beyond its end. */
const TRIMMED_PX = 3;

/**
 * Where in a placed band the line is really there: coloured and bright enough compared with the line
 * nearby; stretches shorter than `shortestPx` are dropped, holes shorter than that closed.
 */
export function findPresence(
  band: LineBand,
  placement: Placement,
  course: Float64Array,
  shortestPx: number,
): Presence {
  const { profiles } = placement;
  const { gains, peak, sides } = readColours(band, course, placement.widthPx);
  const excess = gains[0].map((own, x) => own - Math.max(gains[1][x]!, gains[2][x]!));
  const excessNearby = runningMedian(excess, NEARBY_PX, 25);
  const amplitude = Float64Array.from(profiles, (profile) => profile.amplitude);
  const lightNearby = runningMedian(amplitude, NEARBY_PX, 25);
  const there = Uint8Array.from(profiles, ({ row }, x) => {
    const colour = excess[x]! / excessNearby[x]!;
    const light = amplitude[x]! / lightNearby[x]!;
    const seen =
      (colour > COLOUR_SHARE && light > LIGHT_SHARE) ||
      (colour > CORE_COLOUR_SHARE && light > CORE_LIGHT_SHARE);
    return Number.isFinite(row) && excess[x]! > 0 && seen ? 1 : 0;
  });
  flipShortRuns(there, 0, shortestPx);
  flipShortRuns(there, 1, shortestPx);
  trimEnds(there, TRIMMED_PX);
  return { there, gains, excess, own: peak, excessNoise: medianOf(sides) };
}

/** Colour of the line against the wall on both sides of it, column by column (levels). */
interface LineColours {
  readonly gains: [Float64Array, Float64Array, Float64Array];
  readonly peak: Float64Array;
  /** How far the wall's two sides differ in colour. */
  readonly sides: Float64Array;
}

function readColours(band: LineBand, course: Float64Array, widthPx: number): LineColours {
  const { columns, rows, top } = band;
  const [own, a, b] = band.channels;
  const near = Math.max(1, 0.8 * widthPx);
  const far = backgroundAway(widthPx);
  const gains = [0, 1, 2].map(() => new Float64Array(columns)) as [Float64Array, Float64Array, Float64Array];
  const [peak, sides] = [new Float64Array(columns), new Float64Array(columns)];
  // sums of own, a, b and the count, before and after the line
  const wall = [new Float64Array(4), new Float64Array(4)] as const;
  for (let x = 0; x < columns; x++) {
    const middle = course[x]! - top[x]!;
    wall[0].fill(0);
    wall[1].fill(0);
    for (let j = 0, i = x * rows; j < rows; j++, i++) {
      if (Math.abs(j - middle) <= far) continue;
      const side = wall[j < middle ? 0 : 1];
      side[0]! += own[i]!;
      side[1]! += a[i]!;
      side[2]! += b[i]!;
      side[3]!++;
    }
    const mean = (c: number) => (wall[0][c]! / wall[0][3]! + wall[1][c]! / wall[1][3]!) / 2;
    const over = (side: Float64Array, c: number) => (side[0]! - side[c]!) / side[3]!;
    sides[x] = Math.max(
      Math.abs(over(wall[0], 1) - over(wall[1], 1)),
      Math.abs(over(wall[0], 2) - over(wall[1], 2)),
    );
    const [wallOwn, wallA, wallB] = [mean(0), mean(1), mean(2)];
    const white = Math.max(CORE_LEVEL, CORE_GAIN + Math.min(wallOwn, wallA, wallB));
    let [sumOwn, sumA, sumB, count, cores] = [0, 0, 0, 0, 0];
    let [best, most] = [-1, -Infinity];
    for (
      let j = Math.max(0, Math.ceil(middle - far));
      j <= Math.min(rows - 1, Math.floor(middle + far));
      j++
    ) {
      const i = x * rows + j;
      const [ownGain, aGain, bGain] = [own[i]! - wallOwn, a[i]! - wallA, b[i]! - wallB];
      if (ownGain - Math.max(aGain, bGain) > most) [best, most] = [i, ownGain - Math.max(aGain, bGain)];
      if (Math.abs(j - middle) > near) continue;
      peak[x] = Math.max(peak[x]!, own[i]!);
      if (Math.min(own[i]!, a[i]!, b[i]!) >= white) cores++;
      sumOwn += ownGain;
      sumA += aGain;
      sumB += bGain;
      count++;
    }
    // a clipped core has no colour: its flanks and halo have
    const line =
      cores > 0
        ? [own[best]! - wallOwn, a[best]! - wallA, b[best]! - wallB]
        : [sumOwn, sumA, sumB].map((sum) => sum / count);
    gains.forEach((gain, c) => (gain[x] = line[c]!));
  }
  return { gains: gains.map(smoothValues) as typeof gains, peak, sides };
}

/** Gaussian smoothing of one value per column, never beyond the ends. */
function smoothValues(values: Float64Array): Float64Array {
  const reach = Math.ceil(2.5 * ALONG_SIGMA_PX);
  const taps = Array.from({ length: reach + 1 }, (_, d) => Math.exp(-0.5 * (d / ALONG_SIGMA_PX) ** 2));
  return values.map((_, x) => {
    let sum = 0;
    let weights = 0;
    for (let d = Math.max(-reach, -x); d <= Math.min(reach, values.length - 1 - x); d++) {
      const tap = taps[Math.abs(d)]!;
      sum += tap * values[x + d]!;
      weights += tap;
    }
    return sum / weights;
  });
}

/** Takes `trimmed` columns off both ends of every run of 1 that ends within the band. */
export function trimEnds(flags: Uint8Array, trimmed: number): void {
  const before = flags.slice();
  for (let x = 0; x < flags.length; x++)
    if (!before[x]) flags.fill(0, Math.max(0, x - trimmed), x + trimmed + 1);
}

/** Turns runs of `value` shorter than `shortest` into the other value; a run of 0 at either end stays. */
export function flipShortRuns(flags: Uint8Array, value: 0 | 1, shortest: number): void {
  for (let from = 0; from < flags.length;) {
    let to = from;
    while (to < flags.length && flags[to] === flags[from]) to++;
    const atEnd = from === 0 || to === flags.length;
    if (flags[from] === value && to - from < shortest && !(value === 0 && atEnd))
      flags.fill(1 - value, from, to);
    from = to;
  }
}
