import type { Mark, Tape } from '../../core/survey.ts';
import { formatLength, lengthText, type Units } from '../units.ts';

/** Graduations that a tape can be said to have (mm), with their names. */
export const PITCHES: readonly (readonly [number, string])[] = [
  [1, '1 mm'],
  [5, '5 mm'],
  [10, '10 mm'],
  [100, '100 mm'],
  [12.7, '1/2 in'],
  [25.4, '1 in'],
];

/**
 * What reading a tape came to.
 * @example tapeWords({ from: 0, to: 1, axis: 'up', pitch: 10 }, [], 'mm') // 'Not read yet: the marks stand as they were set.'
 */
export function tapeWords(tape: Tape, marks: readonly Mark[], units: Units): string {
  const { read, axis, to } = tape;
  if (!read) return 'Not read yet: the marks stand as they were set.';
  if (!read.legible) return 'The graduations could not be read: the marks stand as they were set.';
  if (read.misnamedMm !== 0) {
    const named = marks[to]?.[axis] ?? NaN;
    return (
      `The names do not fit the graduations counted: mark ${to + 1}, named ${lengthText(named, units)}, seems to be at ` +
      `${formatLength(named - read.misnamedMm, units)}, or mark ${tape.from + 1} is off by as much. No graduation is used.`
    );
  }
  return `${read.agree} of ${read.of} graduations read, they agree to ${read.rmsPx.toFixed(2)} px.`;
}

/** Whether a tape's reading needs the user. */
export function needsLook({ read }: Tape): boolean {
  return read !== undefined && read.misnamedMm !== 0;
}
