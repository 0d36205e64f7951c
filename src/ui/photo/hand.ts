import type { ImagePoint } from '../../core/camera/frames.ts';
import type { LaserLine } from '../../core/survey.ts';
import type { Work } from './work.svelte.ts';

/** The point of a line that a gesture holds, and where it has it. */
export interface Hand {
  readonly line: LaserLine;
  readonly index: number;
  readonly at: ImagePoint;
}

/** What the gesture that is going on holds of the line's points; null when it holds none. */
export function handOf({ live, line }: Pick<Work, 'live' | 'line'>): Hand | null {
  if (live?.kind !== 'point' || !line?.points[live.index]) return null;
  return { line, index: live.index, at: live.at };
}
