import type { Gap, LineAxis, LinePoint, SuspectReason } from '../survey.ts';
import type { Placement } from './placement.ts';
import { pointSigmas } from './pointSigma.ts';
import type { Presence } from './presence.ts';
import { runningMedian } from './running.ts';

/** One stretch of a line measured at full size: column x lies at the along-coordinate from + x (px). */
export interface MeasuredStretch {
  readonly from: number;
  readonly placement: Placement;
  readonly presence: Presence;
}

/** One placed column. */
export interface LineColumn {
  readonly along: number;
  readonly across: number;
  readonly sigma: number;
  readonly reason: SuspectReason | null;
  readonly excess: number;
}

/**
 * A peak beside the line, as a share of it, or the tilt of its top, as a share of its width, that may be a
 * second line.
 */
const SECOND_SHARE = 0.6;
const SKEW_SHARE = 0.4;
const WIDE = 2;
const LEAST_CONTRAST = 3;
const NEIGHBOURS_PX = 10;
const OFF_SIGMAS = 5;
const OFF_PX = 1;

/** The columns of a stretch in which the line is there, each with its sigma and, if it looks wrong, why. */
export function stretchColumns(stretch: MeasuredStretch): LineColumn[] {
  const { from, placement, presence } = stretch;
  const { profiles, across, steps, widthPx } = placement;
  const sigmas = pointSigmas(placement);
  const usual = runningMedian(across, NEIGHBOURS_PX, 1);
  const columns: LineColumn[] = [];
  for (let x = 0; x < across.length; x++) {
    if (!presence.there[x] || Number.isNaN(across[x]!)) continue;
    const { amplitude, noise, widthRows, secondShare, skewRows } = profiles[x]!;
    const off = Math.abs(across[x]! - usual[x]!);
    let reason: SuspectReason | null = null;
    if (off > Math.max(OFF_PX, OFF_SIGMAS * sigmas[x]!)) reason = 'off_neighbours';
    else if (amplitude < LEAST_CONTRAST * noise) reason = 'low_contrast';
    else if (secondShare > SECOND_SHARE || Math.abs(skewRows) > SKEW_SHARE * widthPx) reason = 'two_peaks';
    // a column at a step shows both heights
    else if (steps.includes(x) || steps.includes(x + 1)) reason = 'two_peaks';
    else if (widthRows > WIDE * widthPx) reason = 'wide';
    const sigma = reason === 'off_neighbours' ? Math.max(off, sigmas[x]!) : sigmas[x]!;
    columns.push({ along: from + x, across: across[x]!, sigma, reason, excess: presence.excess[x]! });
  }
  return columns;
}

/** The columns of several stretches in order; where two overlap, the more coloured one. */
export function joinColumns(stretches: readonly (readonly LineColumn[])[]): LineColumn[] {
  const best = new Map<number, LineColumn>();
  for (const column of stretches.flat()) {
    const other = best.get(column.along);
    if (!other || other.excess < column.excess) best.set(column.along, column);
  }
  return [...best.values()].sort((a, b) => a.along - b.along);
}

/** Image points of columns, in the same order. */
export function pointsOfColumns(columns: readonly LineColumn[], axis: LineAxis): LinePoint[] {
  return columns.map(({ along, across, sigma, reason }) => ({
    u: axis === 'level' ? along : across,
    v: axis === 'level' ? across : along,
    sigma,
    ...(reason ? { state: 'suspect', why: reason } : { state: 'found' }),
  }));
}

/**
 * Stretches longer than `leastPx` between neighbouring along-coordinates (rising).
 * @example gapsBetween([1, 2, 3, 20, 21], 4) // [{ from: 4, to: 19 }]
 */
export function gapsBetween(alongs: readonly number[], leastPx: number): Gap[] {
  const gaps: Gap[] = [];
  for (let i = 1; i < alongs.length; i++)
    if (alongs[i]! - alongs[i - 1]! > leastPx) gaps.push({ from: alongs[i - 1]! + 1, to: alongs[i]! - 1 });
  return gaps;
}
