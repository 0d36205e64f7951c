import { findLine, type Evidence } from '../../app/editLeftOut.ts';
import { hashOfPlace } from '../../app/place.svelte.ts';
import type { Residual } from '../../core/results.ts';
import type { LaserLine, Survey } from '../../core/survey.ts';
import { formatLength, formatMeasured } from '../units.ts';

/** A line as the user knows it: "line at 750 mm in photo f2". */
export function nameLine(survey: Survey, photoId: string, lineId: string): string {
  const line = lineOf(survey, photoId, lineId);
  const at = line?.sheet.at ?? null;
  const kind = line?.sheet.axis === 'plumb' ? 'plumb line' : 'line';
  return `${kind} ${at === null ? lineId : `at ${formatLength(at, survey.units)}`} in photo ${photoId}`;
}

const lineOf = (survey: Survey, photoId: string, lineId: string): LaserLine | undefined =>
  survey.photos.find(({ id }) => id === photoId)?.lines.find(({ id }) => id === lineId);

/** What can be left out by hand, as the user knows it: "reading r3", "mark 2 of photo f4". */
export function nameEvidence(survey: Survey, evidence: Evidence): string {
  if (evidence.kind === 'reading') return `reading ${evidence.reading}`;
  if (evidence.kind === 'photo') return `photo ${evidence.photo}`;
  if (evidence.kind === 'mark') return `mark ${evidence.mark + 1} of photo ${evidence.photo}`;
  return nameLine(survey, evidence.photo, evidence.line);
}

const MEASURES = {
  off: "distance off the laser's plane",
  up: 'height above the floor',
  along: 'distance from the left end',
} as const;

/** What a residual is of, as the user knows it: "reading r3", "mark 2 of photo f4", "phone's height above the floor, photo f5". */
export function nameResidual(survey: Survey, { kind, subject, part, index = 0 }: Residual): string {
  if (kind === 'reading') return `reading ${subject}`;
  if (kind === 'mark')
    return index < 0 ? `tape of photo ${subject}` : `mark ${index + 1} of photo ${subject}`;
  if (kind === 'block') return `packer ${index + 1} of photo ${subject}`;
  if (kind === 'stand') return `phone's ${MEASURES[part as keyof typeof MEASURES]}, photo ${subject}`;
  const found = findLine(survey, subject);
  return found ? nameLine(survey, found.photo, found.line) : `line ${subject}`;
}

/** Which way something seems wrong; `isMore` = what was noted is too much. */
function sayDirection({ kind, part }: Residual, isPlumb: boolean, isMore: boolean): string {
  if (kind === 'block') return isMore ? 'too thick' : 'too thin';
  if (part === 'up' || (kind === 'line' && !isPlumb)) return isMore ? 'too high' : 'too low';
  if (part === 'off') return isMore ? 'too far off' : 'too near';
  return isMore ? 'too far right' : 'too far left';
}

/**
 * By how much something seems wrong, and which way: "reads 9.8 mm too long (±0.9 mm)". The spread is that of the error: w is the error
 * over it.
 */
export function sayAmount(survey: Survey, residual: Residual): string {
  const { kind, part, errorMm, w, subject, state } = residual;
  if (!Number.isFinite(errorMm)) return 'does not agree, by how much cannot be told';
  const { units } = survey;
  const size = formatLength(Math.abs(errorMm), units);
  const sigmaMm = Math.abs(errorMm / w);
  // of several that fail alike each stands for an error of its own: no one spread goes with it
  const spread = state === 'unsure' || !Number.isFinite(sigmaMm) ? '' : ` (±${formatLength(sigmaMm, units)})`;
  // offsets count towards the room, readings away from it
  if (kind === 'reading') return `reads ${size} too ${errorMm < 0 ? 'long' : 'short'}${spread}`;
  if (kind === 'mark') {
    const way = part === 'up' ? 'up or down' : 'along the wall';
    return `seems ${size} out of place ${way}${spread}`;
  }
  if (part === 'tilt')
    return `seems tilted ${formatLength(2 * Math.abs(errorMm), units)} over its length: was the laser bumped?`;
  const line = findLine(survey, subject);
  const isPlumb = line !== null && lineOf(survey, line.photo, line.line)?.sheet.axis === 'plumb';
  const what = kind === 'line' ? (isPlumb ? 'its place seems' : 'its height seems') : 'seems';
  return `${what} ${size} ${sayDirection(residual, isPlumb, errorMm > 0)}${spread}`;
}

/** How far the rest checks something, in words: what its redundancy means. */
export function sayCheck({ redundancy, detectableMm, state }: Residual, units: Survey['units']): string {
  if (!(redundancy > 0) || Number.isNaN(detectableMm)) return 'Nothing else checks it.';
  const found = `an error of ${formatLength(detectableMm, units)} or more would be found`;
  if (state === 'unsure') return 'What is measured near it cannot tell which of them is wrong.';
  if (redundancy >= 0.5) return `The rest checks it well: ${found}.`;
  if (redundancy >= 0.1) return `The rest checks it in part: ${found}.`;
  return `The rest hardly checks it: only ${found}.`;
}

/** What the rest says should stand there, to compare with the note or the rule; null where no one figure does. */
export function sayExpected(
  survey: Survey,
  { kind, part, subject, errorMm, w, state }: Residual,
): string | null {
  if (state === 'unsure' || !Number.isFinite(errorMm)) return null;
  const sigmaMm = Math.abs(errorMm / w);
  if (kind === 'reading') {
    const reading = survey.readings.find(({ id }) => id === subject);
    if (!reading) return null;
    return `about ${formatMeasured(reading.distance + errorMm, sigmaMm, survey.units)}`;
  }
  const found = kind === 'line' && part === 'shift' ? findLine(survey, subject) : null;
  const at = found && lineOf(survey, found.photo, found.line)?.sheet.at;
  return at ? `about ${formatMeasured(at - errorMm, sigmaMm, survey.units)}` : null;
}

/** Where something is put right: the reading's row, the photo's mark, line or phone. */
export function mendHash(survey: Survey, { kind, subject, index = -1 }: Residual): string | null {
  if (kind === 'reading') return hashOfPlace('readings', subject);
  if (kind === 'line') {
    const found = findLine(survey, subject);
    return found && hashOfPlace('photos', found.photo, `line ${found.line}`);
  }
  if (kind === 'mark') return hashOfPlace('photos', subject, index < 0 ? 'marks' : `mark ${index + 1}`);
  return hashOfPlace('photos', subject, 'stand');
}
