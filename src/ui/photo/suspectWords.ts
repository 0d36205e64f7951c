import type { LinePoint, SuspectReason } from '../../core/survey.ts';

/** Why a point is suspect, in words that stand after "suspect:". */
export const suspectWords: { readonly [R in SuspectReason]: string } = {
  two_peaks: 'two bright peaks',
  low_contrast: 'hardly brighter than the wall',
  off_neighbours: 'away from its neighbours',
  wide: 'much wider than the line',
  crossing: 'beside the crossing of two lines',
};

/** How many of a line's suspects are so for every reason there is, the most first; those without a reason are not told. */
export function countReasons(points: readonly LinePoint[]): readonly (readonly [SuspectReason, number])[] {
  const counts = new Map<SuspectReason, number>();
  for (const { state, why } of points)
    if (state === 'suspect' && why) counts.set(why, (counts.get(why) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1]);
}
