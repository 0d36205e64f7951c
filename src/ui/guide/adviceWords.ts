import type { Advice } from '../../core/camera/advice.ts';
import { formatLength, type Units } from '../units.ts';

/**
 * What to do before a photograph is taken, in words with its figure.
 * @example adviceWords({ code: 'lower', byMm: 348 }, 'mm') // 'Hold the phone 350 mm lower.'
 */
export function adviceWords(advice: Advice, units: Units): string {
  const by = 'byMm' in advice ? formatLength(Math.round(advice.byMm / 10) * 10, units, 0) : '';
  switch (advice.code) {
    case 'back':
      return `Go ${by} back from the wall.`;
    case 'nearer':
      return `Come ${by} nearer to the wall: the whole line still shows, in finer pixels.`;
    case 'higher':
      return `Hold the phone ${by} higher.`;
    case 'lower':
      return `Hold the phone ${by} lower.`;
    case 'left':
      return `Stand ${by} further to the left.`;
    case 'right':
      return `Stand ${by} further to the right.`;
    case 'side_by_side':
      return `The room is too shallow for the whole line: take ${advice.count} photos side by side, with some of the line in both.`;
    case 'marks':
      return `Have ${advice.count === 1 ? 'one more tape mark' : `${advice.count} more tape marks`} in view, spread from end to end.`;
    case 'stand':
      return `Measure where the phone stands to ${formatLength(advice.sigmaMm, units, 0)}, with a tape.`;
    case 'lens':
      return `The lens may bend the line by ${advice.lensMm.toFixed(1)} mm: check it with a taut string, or let level and plumb lines cross.`;
  }
}
