import type { Gap, LineAxis, LinePoint } from '../survey.ts';
import { gapsBetween } from './linePoints.ts';

/** Neighbouring points further apart than this are the two ends of a gap (px along the line). */
export const GAP_PX = 6;

const isByHand = ({ state }: LinePoint): boolean => state === 'moved' || state === 'added' || state === 'off';

/**
 * Points found anew together with those set by hand before (moved, added, or left out), which stay and take
 * the place of a found one in their column, in order along the line. Into a gap made by hand, marked or erased, nothing
 * found comes back; it stays beside the gaps between the points.
 * @example joinByHand([{ u: 5, v: 1, sigma: 1, state: 'moved' }], [{ u: 5, v: 2, sigma: 1, state: 'found' }], 'level').points.length // 1
 * @example joinByHand([], [{ u: 5, v: 2, sigma: 1, state: 'found' }], 'level', [{ from: 4, to: 6, byHand: true }]).points // []
 */
export function joinByHand(
  before: readonly LinePoint[],
  found: readonly LinePoint[],
  axis: LineAxis,
  gapsBefore: readonly Gap[] = [],
): { points: LinePoint[]; gaps: Gap[] } {
  const along = ({ u, v }: LinePoint): number => (axis === 'level' ? u : v);
  const kept = before.filter(isByHand);
  const taken = new Set(kept.map((point) => Math.round(along(point))));
  const closed = gapsBefore.filter(({ byHand }) => byHand);
  const isShut = (px: number): boolean => closed.some(({ from, to }) => from < px && px < to);
  const isWanted = (point: LinePoint): boolean =>
    !taken.has(Math.round(along(point))) && (isByHand(point) || !isShut(along(point)));
  const points = [...kept, ...found.filter(isWanted)].sort((a, b) => along(a) - along(b));
  return { points, gaps: putGaps(gapsBetween(points.map(along), GAP_PX), closed) };
}

/**
 * Gaps with others (that do not overlap each other) put in, in rising order: where they overlap, the ones put in stay whole.
 * @example putGaps([{ from: 0, to: 9 }], [{ from: 2, to: 4 }]) // [{ from: 0, to: 2 }, { from: 2, to: 4 }, { from: 4, to: 9 }]
 */
export function putGaps(gaps: readonly Gap[], put: readonly Gap[]): Gap[] {
  const cut = put.reduce<readonly Gap[]>(
    (left, { from, to }) =>
      left.flatMap((gap) =>
        gap.to <= from || gap.from >= to
          ? [gap]
          : [
              { ...gap, to: from },
              { ...gap, from: to },
            ].filter((piece) => piece.from < piece.to),
      ),
    gaps,
  );
  return [...cut, ...put].sort((a, b) => a.from - b.from);
}
