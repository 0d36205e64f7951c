import type { LaserLine, LinePoint } from '../../core/survey.ts';
import type { Work } from './work.svelte.ts';

/** The stretch of a line's points that a gesture holds, first and last, as it would leave them. */
export interface Hand {
  readonly line: LaserLine;
  readonly first: number;
  readonly last: number;
  readonly points: readonly LinePoint[];
}

/** A stretch in hand begins and ends at multiples of this, so that the points outside it are seldom painted anew as it grows. */
const BLOCK = 128;

/** What the gesture that is going on holds of the line's points; null when it holds none. */
export function handOf({ live, line }: Pick<Work, 'live' | 'line'>): Hand | null {
  if (!line || live?.kind !== 'point') return null;
  const point = line.points[live.index];
  if (!point) return null;
  const { index, at } = live;
  return { line, first: index, last: index, points: [{ ...point, ...at, state: 'moved' }] };
}

/** The stretch in which a line's points would become others, of as many; null where all stay the same. */
export function handOfChange(line: LaserLine, next: readonly LinePoint[]): Hand | null {
  const { points } = line;
  const low = points.findIndex((point, i) => point !== next[i]);
  if (low < 0) return null;
  const high = points.findLastIndex((point, i) => point !== next[i]);
  const first = Math.floor(low / BLOCK) * BLOCK;
  const last = Math.min(points.length, Math.ceil((high + 1) / BLOCK) * BLOCK) - 1;
  return { line, first, last, points: next.slice(first, last + 1) };
}
