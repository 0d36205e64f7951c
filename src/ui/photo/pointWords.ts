import type { PointState } from '../../core/survey.ts';
import type { Live, Tool, Work } from './work.svelte.ts';

const STATE_WORDS: Readonly<Record<PointState, string>> = {
  found: 'found',
  suspect: 'suspect',
  moved: 'moved',
  added: 'added',
  off: 'left out',
};

const PLACE_WORDS: Readonly<Partial<Record<Tool, string>>> = {
  add: 'new point',
  mark: 'mark',
  pin: 'pin',
};

/** What the magnifier shows, in a word or two: the state the held point had, or what would be placed; empty where neither is meant. */
export function pointWords({
  live,
  line,
  tool,
}: Pick<Work, 'line' | 'tool'> & { live: Live | null }): string {
  if (live?.kind === 'point') {
    const point = line?.points[live.index];
    return point ? STATE_WORDS[point.state] : '';
  }
  if (live?.kind === 'mark') return `mark ${live.index + 1}`;
  if (live?.kind === 'draft') return 'mark';
  return PLACE_WORDS[tool] ?? '';
}
