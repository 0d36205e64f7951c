import type { Gap, LineAxis, LinePoint } from '../survey.ts';
import { gapsBetween } from './linePoints.ts';

/** Neighbouring points further apart than this are the two ends of a gap (px along the line). */
const GAP_PX = 6;

const isByHand = ({ state }: LinePoint): boolean => state === 'moved' || state === 'added' || state === 'off';

/**
 * Points found anew together with those set by hand before (moved, added, or left out), which stay and take
 * the place of a found one in their column; in order along the line, with the gaps between them.
 * @example joinByHand([{ u: 5, v: 1, sigma: 1, state: 'moved' }], [{ u: 5, v: 2, sigma: 1, state: 'found' }], 'level').points.length // 1
 */
export function joinByHand(
  before: readonly LinePoint[],
  found: readonly LinePoint[],
  axis: LineAxis,
): { points: LinePoint[]; gaps: Gap[] } {
  const along = ({ u, v }: LinePoint): number => (axis === 'level' ? u : v);
  const kept = before.filter(isByHand);
  const taken = new Set(kept.map((point) => Math.round(along(point))));
  const points = [...kept, ...found.filter((point) => !taken.has(Math.round(along(point))))].sort(
    (a, b) => along(a) - along(b),
  );
  return { points, gaps: gapsBetween(points.map(along), GAP_PX) };
}
