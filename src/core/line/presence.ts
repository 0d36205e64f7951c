import { readColours } from './lineColours.ts';
import type { LineBand } from './lineBand.ts';
import type { Placement } from './placement.ts';
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
/** The most a channel can hold, and the least room that a wall leaves below it (levels). */
const MOST_LEVEL = 255;
const LEAST_ROOM = 16;
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
  const { profiles, across } = placement;
  const { gains, peak, sides, wallOwn } = readColours(band, course, placement.widthPx);
  for (const gain of gains) smoothValues(gain);
  const { columns } = band;
  const [own, a, b] = gains;
  const excess = own.map((gain, x) => gain - Math.max(a[x]!, b[x]!));
  const excessNearby = runningMedian(excess, NEARBY_PX, 25);
  const amplitude = Float64Array.from(profiles, (profile) => profile.amplitude);
  const lightNearby = runningMedian(amplitude, NEARBY_PX, 25);
  const there = new Uint8Array(columns);
  for (let x = 0; x < columns; x++) {
    // on a wall that is nearly white there is no room for more
    const room = Math.max(LEAST_ROOM, MOST_LEVEL - wallOwn[x]!);
    const colour = excess[x]! / Math.min(excessNearby[x]!, room);
    const light = amplitude[x]! / lightNearby[x]!;
    const seen =
      (colour > COLOUR_SHARE && light > LIGHT_SHARE) ||
      (colour > CORE_COLOUR_SHARE && light > CORE_LIGHT_SHARE);
    if (Number.isFinite(across[x]!) && excess[x]! > 0 && seen) there[x] = 1;
  }
  flipShortRuns(there, 0, shortestPx);
  flipShortRuns(there, 1, shortestPx);
  trimEnds(there, TRIMMED_PX);
  return { there, gains, excess, own: peak, excessNoise: medianOf(sides) };
}

/** Gaussian smoothing of one value per column in place, never beyond the ends. */
function smoothValues(values: Float64Array): void {
  const reach = Math.ceil(2.5 * ALONG_SIGMA_PX);
  const taps = Float64Array.from({ length: reach + 1 }, (_, d) => Math.exp(-0.5 * (d / ALONG_SIGMA_PX) ** 2));
  const before = values.slice();
  for (let x = 0; x < values.length; x++) {
    let sum = 0;
    let weights = 0;
    const last = Math.min(values.length - 1, x + reach);
    for (let i = Math.max(0, x - reach); i <= last; i++) {
      const tap = taps[i < x ? x - i : i - x]!;
      sum += tap * before[i]!;
      weights += tap;
    }
    values[x] = sum / weights;
  }
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
