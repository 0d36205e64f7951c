import type { ImagePoint } from '../../core/camera/frames.ts';

/** Half of a 44 px target: how far a finger may be from what it means (css px). */
export const REACH_PX = 22;

/** The nearest of some image points within a reach (px of the same kind), and how far it is; null when none is. */
export function nearestPoint(
  points: readonly ImagePoint[],
  at: ImagePoint,
  reachPx: number,
): { index: number; apartPx: number } | null {
  let index = -1;
  let apartPx = reachPx;
  for (let i = 0; i < points.length; i++) {
    const apart = Math.hypot(points[i]!.u - at.u, points[i]!.v - at.v);
    if (apart > apartPx) continue;
    index = i;
    apartPx = apart;
  }
  return index < 0 ? null : { index, apartPx };
}

/** The point nearest to a place along the run (px); -1 where there is none. @example nearestAlong([{ u: 1, v: 0 }, { u: 5, v: 0 }], 4, 'u') // 1 */
export function nearestAlong(points: readonly ImagePoint[], atPx: number, run: 'u' | 'v'): number {
  let nearest = -1;
  for (let i = 0; i < points.length; i++)
    if (nearest < 0 || Math.abs(points[i]![run] - atPx) < Math.abs(points[nearest]![run] - atPx)) nearest = i;
  return nearest;
}

/** A stretch of points, first and last index. */
export interface Stretch {
  readonly first: number;
  readonly last: number;
}

/** The stretches of neighbouring suspect points, in order. */
export function listSuspects(points: readonly { readonly state: string }[]): Stretch[] {
  const found: Stretch[] = [];
  points.forEach(({ state }, index) => {
    if (state !== 'suspect') return;
    const before = found[found.length - 1];
    if (before && before.last === index - 1) found[found.length - 1] = { ...before, last: index };
    else found.push({ first: index, last: index });
  });
  return found;
}

/** The next (`step` 1) or previous (-1) stretch beside the point at `from`, going round; null when there is none. */
export function nextStretch(stretches: readonly Stretch[], from: number, step: 1 | -1): Stretch | null {
  const beyond = stretches.filter(({ first, last }) => (step > 0 ? first > from : last < from));
  const [near, far] = step > 0 ? [0, 0] : [beyond.length - 1, stretches.length - 1];
  return beyond[near] ?? stretches[far] ?? null;
}
