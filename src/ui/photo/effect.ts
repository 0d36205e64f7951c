import { runAxis } from '../../app/editPhoto.ts';
import type { Camera } from '../../core/camera/camera.ts';
import { triangulateLine } from '../../core/camera/triangulate.ts';
import { SUSPECT_SIGMAS } from '../../core/solve/network.ts';
import type { LaserLine, LinePoint } from '../../core/survey.ts';
import { findPlace, interpolate, orderRun, type Run } from './run.ts';

/** What a change of a line does to its profile as this photograph alone sees it, offsets without any shift to the surface. */
export interface Effect {
  /** Points that count before and after, and points whose place in the picture changed. */
  readonly before: number;
  readonly after: number;
  readonly moved: number;
  /** The one point that moved, when only one did: where along the wall it is now, its offset before and after (mm). */
  readonly single: { readonly s: number; readonly from: number; readonly to: number } | null;
  /** Length of wall that the changed points span (mm). */
  readonly lengthMm: number;
  /** Change of the smoothed profile there, where it is known before and after: mean and largest (mm, with sign). */
  readonly meanMm: number;
  readonly largestMm: number;
  /** Length of wall there that has no profile any more, and that has one now (mm). */
  readonly lostMm: number;
  readonly gainedMm: number;
}

/** The profile is smoothed over so much to either side (mm): stretches of 20 mm, as the solve takes them. */
const SMOOTH_MM = 10;
const LEAST_STEP_MM = 1;
const MOST_PLACES = 400;

/** A profile in rising order along the wall, with the weight of every point. */
interface Weighed {
  readonly s: Float64Array;
  readonly out: Float64Array;
  readonly weight: Float64Array;
}

/** What comes of changing a line from `before` to `after`, both as the camera sees them; null where no point that counts changed. */
export function weighChange(camera: Camera, before: LaserLine, after: LaserLine): Effect | null {
  const [old, now] = [before, after].map((line) => runOf(camera, line)) as [Run, Run];
  const [gone, come] = [changedOf(before, old, after.points), changedOf(after, now, before.points)];
  if (gone.length + come.length === 0) return null;
  const places = [...gone.map((i) => old.s[i]!), ...come.map((i) => now.s[i]!)];
  const from = places.reduce((least, s) => Math.min(least, s), Infinity);
  const to = places.reduce((most, s) => Math.max(most, s), -Infinity);
  const moved = old.px.length === now.px.length ? countMoved(before, after, old, now, gone, come) : 0;
  const [one, other] = [gone[0]!, come[0]!];
  const single =
    moved === 1 && gone.length === 1 ? { s: now.s[other]!, from: old.out[one]!, to: now.out[other]! } : null;
  return {
    before: old.px.length,
    after: now.px.length,
    moved,
    single,
    lengthMm: to - from,
    ...compareProfiles(weigh(before, old), weigh(after, now), from, to),
  };
}

/**
 * By how much the line moved at a place along its run in the picture (px): its offset before and after (mm), each NaN where it
 * was not seen there.
 */
export function weighPlace(camera: Camera, before: LaserLine, after: LaserLine, atPx: number) {
  const offset = (line: LaserLine) => {
    const run = runOf(camera, line);
    return interpolate(run.px, run.out, atPx);
  };
  return { from: offset(before), to: offset(after) };
}

const runOf = (camera: Camera, line: LaserLine): Run =>
  orderRun(triangulateLine(camera, line), runAxis(line.sheet.axis));

/** Places in a run of the points that are not, the very same value, among others. */
function changedOf(line: LaserLine, run: Run, others: readonly LinePoint[]): number[] {
  const known = new Set(others);
  return Array.from(run.index.keys()).filter((i) => !known.has(line.points[run.index[i]!]!));
}

function countMoved(
  before: LaserLine,
  after: LaserLine,
  old: Run,
  now: Run,
  gone: readonly number[],
  come: readonly number[],
): number {
  if (gone.length !== come.length) return 0;
  return gone.filter((i, k) => {
    const [a, b] = [before.points[old.index[i]!]!, after.points[now.index[come[k]!]!]!];
    return a.u !== b.u || a.v !== b.v;
  }).length;
}

function weigh(line: LaserLine, run: Run): Weighed {
  const order = Array.from(run.s.keys()).sort((a, b) => run.s[a]! - run.s[b]!);
  const weight = (i: number) => {
    const factor = line.points[run.index[i]!]!.state === 'suspect' ? SUSPECT_SIGMAS : 1;
    return 1 / (factor * run.sigma[i]!) ** 2;
  };
  return {
    s: Float64Array.from(order, (i) => run.s[i]!),
    out: Float64Array.from(order, (i) => run.out[i]!),
    weight: Float64Array.from(order, weight),
  };
}

/** Weighted mean of a profile about a place (mm); NaN where no point is near. */
function smoothAt({ s, out, weight }: Weighed, at: number): number {
  let [sum, total] = [0, 0];
  for (let i = findPlace(s, at - SMOOTH_MM); i < s.length && s[i]! <= at + SMOOTH_MM; i++) {
    sum += weight[i]! * out[i]!;
    total += weight[i]!;
  }
  return total > 0 ? sum / total : NaN;
}

function compareProfiles(old: Weighed, now: Weighed, from: number, to: number) {
  const count = Math.min(MOST_PLACES, Math.max(1, Math.ceil((to - from) / LEAST_STEP_MM)));
  const stepMm = (to - from) / count;
  let [both, sum, largestMm, lostMm, gainedMm] = [0, 0, 0, 0, 0];
  for (let k = 0; k <= count; k++) {
    const at = from + k * stepMm;
    const [a, b] = [smoothAt(old, at), smoothAt(now, at)];
    if (Number.isFinite(a) && Number.isFinite(b)) {
      both++;
      sum += b - a;
      if (Math.abs(b - a) > Math.abs(largestMm)) largestMm = b - a;
    } else if (Number.isFinite(a)) lostMm += stepMm;
    else if (Number.isFinite(b)) gainedMm += stepMm;
  }
  return { meanMm: both > 0 ? sum / both : 0, largestMm, lostMm, gainedMm };
}
