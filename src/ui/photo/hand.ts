import type { LaserLine, LinePoint } from '../../core/survey.ts';
import type { Work } from './work.svelte.ts';

/** The stretch of a line's points that a gesture holds, first and last, as it would leave them. */
export interface Hand {
  readonly line: LaserLine;
  readonly first: number;
  readonly last: number;
  readonly points: readonly LinePoint[];
}

/** What the gesture that is going on holds of the line's points; null when it holds none. */
export function handOf({ live, line }: Pick<Work, 'live' | 'line'>): Hand | null {
  if (!line || live?.kind !== 'point') return null;
  const point = line.points[live.index];
  if (!point) return null;
  const { index, at } = live;
  return { line, first: index, last: index, points: [{ ...point, ...at, state: 'moved' }] };
}
