import { ThreeTermFit } from './threeTerms.ts';
import type { MeasuredTick } from './ticks.ts';

/** Graduations that agree with each other, with sigmas that their own scatter bears out, and their scatter (samples). */
export interface AgreeingTicks {
  readonly ticks: readonly MeasuredTick[];
  readonly rms: number;
}

/** Graduations to either side that say where one should be. */
const NEIGHBOURS = 10;
const LEAST_NEIGHBOURS = 6;
/** A graduation further than this many sigmas from what its neighbours say does not agree. */
const MOST_SIGMAS = 3.3;
const ROUNDS = 3;
/** Contrast against the usual one, and light left over against the usual, of a graduation that is seen clearly. */
const CONTRAST = { least: 0.45, most: 2.2 };
const MOST_MISS_LIGHT = 2.5;
/** What the drawing of graduations and the sampling of pixels leave in common to neighbours (samples). */
const SHARED_SIGMA = 0.02;

/**
 * The measured graduations that their neighbours confirm. Each is compared with a parabola through those around it, without
 * itself; the sigma of all comes from that scatter, in proportion to what each one's light allows (variance of unit weight).
 */
export function findAgreeing(measured: readonly MeasuredTick[]): AgreeingTicks {
  const usual = medianOf(measured.map(({ contrast }) => contrast));
  const usualMiss = medianOf(measured.map(({ missLight }) => missLight));
  let ticks = measured.filter(
    ({ contrast, missLight }) =>
      contrast > CONTRAST.least * usual &&
      contrast < CONTRAST.most * usual &&
      missLight < MOST_MISS_LIGHT * usualMiss,
  );
  let unit = 1;
  let rms = 0;
  for (let round = 0; round < ROUNDS; round++) {
    const misses = ticks.map((_, i) => missOf(ticks, i));
    const known = misses.filter((miss) => miss !== null);
    if (known.length < LEAST_NEIGHBOURS) return { ticks: [], rms: NaN };
    // robust: a few that disagree must not widen the limit for all
    unit = medianOf(known.map(({ miss, sigma }) => Math.abs(miss / sigma))) / 0.6745;
    const kept = misses.map(
      (miss) => miss !== null && Math.abs(miss.miss) <= MOST_SIGMAS * unit * miss.sigma,
    );
    const inside = misses.flatMap((miss, i) => (kept[i] ? [miss!] : []));
    if (inside.length === 0) return { ticks: [], rms: NaN };
    unit = Math.sqrt(inside.reduce((sum, { miss, sigma }) => sum + (miss / sigma) ** 2, 0) / inside.length);
    rms = Math.sqrt(inside.reduce((sum, { miss }) => sum + miss ** 2, 0) / inside.length);
    ticks = ticks.filter((_, i) => kept[i]);
  }
  return {
    ticks: ticks.map((tick) => ({ ...tick, sigma: Math.hypot(unit * tick.sigma, SHARED_SIGMA) })),
    rms,
  };
}

/** How far a graduation lies from what its neighbours say, with the spread of both by their light; null with too few. */
function missOf(ticks: readonly MeasuredTick[], index: number): { miss: number; sigma: number } | null {
  const here = ticks[index]!;
  const fit = new ThreeTermFit();
  for (let i = Math.max(0, index - NEIGHBOURS); i < Math.min(ticks.length, index + NEIGHBOURS + 1); i++) {
    const { number, place, sigma } = ticks[i]!;
    const x = (number - here.number) / NEIGHBOURS;
    if (i !== index && Math.abs(x) <= 2) fit.add(1, x, x * x, place - here.place, sigma ** -2);
  }
  const solved = fit.count < LEAST_NEIGHBOURS ? null : fit.solve();
  if (!solved) return null;
  return { miss: -solved.values[0], sigma: Math.sqrt(here.sigma ** 2 + solved.variances[0]) };
}

function medianOf(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1] ?? NaN;
}
