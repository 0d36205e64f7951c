import { runAxis } from '../../app/editPhoto.ts';
import { liesUnder } from '../../app/erasePoints.ts';
import { pushedPoints, type Push } from '../../app/pushPoints.ts';
import type { ImagePoint } from '../../core/camera/frames.ts';
import type { LaserLine, LinePoint } from '../../core/survey.ts';
import type { Live, Work } from './work.svelte.ts';

export type LivePush = Extract<Live, { readonly kind: 'stretch' | 'push' }>;
type LiveErase = Extract<Live, { readonly kind: 'erase' }>;

/** The push that a gesture stands for, px of the picture. */
export function pushOf(work: Work, { from, at }: LivePush): Push {
  const run = runAxis(work.line?.sheet.axis ?? 'level');
  const across = run === 'u' ? 'v' : 'u';
  return { atPx: from[run], reachPx: work.reachPx, byPx: at[across] - from[across] };
}

/** A push that goes on to a place: it follows across the line only, however the finger strays along it. */
export function movedPush(work: Work, live: LivePush, to: ImagePoint): LivePush {
  const run = runAxis(work.line?.sheet.axis ?? 'level');
  return { kind: 'push', from: live.from, at: { ...to, [run]: live.from[run] } };
}

/** Radius of the disc that erases, px of the picture. */
export function discReachPx(work: Work): number {
  return work.discPx / work.view.scale;
}

/** The disc that erases put to a place, or drawn on to it; its path is told no finer than it matters. */
export function erasedTo(work: Work, live: LiveErase | null, to: ImagePoint): LiveErase {
  const radiusPx = discReachPx(work);
  const last = live?.path[live.path.length - 1];
  const hit = new Set(live?.hit);
  const stroke = last ? [last, to] : [to];
  work.line?.points.forEach((point, index) => {
    if (liesUnder(stroke, radiusPx, point)) hit.add(index);
  });
  const isFar = !last || Math.hypot(to.u - last.u, to.v - last.v) >= radiusPx / 4;
  return { kind: 'erase', path: isFar ? [...(live?.path ?? []), to] : live.path, at: to, hit };
}

/** Points of a line in the reach of a push that begins at a place, at most so many of them, evenly chosen. */
export function pointsInReach(
  line: LaserLine,
  from: ImagePoint,
  reachPx: number,
  most: number,
): readonly LinePoint[] {
  const run = runAxis(line.sheet.axis);
  const near = line.points.filter((point) => Math.abs(point[run] - from[run]) < reachPx);
  const step = Math.max(1, Math.ceil(near.length / most));
  return near.filter((_, i) => i % step === 0);
}

/** Those of some points of the work's line that a push moves, and as they would be then. */
export function previewPush(
  work: Work,
  live: LivePush,
  points: readonly LinePoint[],
): { from: LinePoint; to: LinePoint }[] {
  if (!work.line) return [];
  const pushed = pushedPoints({ points, sheet: work.line.sheet }, pushOf(work, live));
  return points.flatMap((from, i) => (pushed[i] === from ? [] : [{ from, to: pushed[i]! }]));
}
