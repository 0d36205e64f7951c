import type { NextMeasure } from '../core/results.ts';
import type { LineAxis, Survey } from '../core/survey.ts';
import { setSheet } from './editLines.ts';

/** What the user set out to measure next: a line to throw and photograph, or a spot to hold the rule at (mm). */
export type WantedMeasure =
  | { readonly kind: 'line'; readonly axis: LineAxis; readonly at: number }
  | { readonly kind: 'reading'; readonly along: number; readonly up: number };

/**
 * What an advised measurement asks of the user.
 * @example wantedOf({ kind: 'level', along: 1800, up: 1550, stretch: { from: 0, to: 3600 }, doubtfulM2After: 0.4, sigmaRmsAfterMm: 1 }) // { kind: 'line', axis: 'level', at: 1550 }
 */
export function wantedOf({ kind, along, up }: NextMeasure): WantedMeasure {
  if (kind === 'reading') return { kind, along, up };
  return { kind: 'line', axis: kind, at: kind === 'level' ? up : along };
}

/** The survey with a wanted line as the line to look for in a newly added photo; as it was where that photo has points or a place. */
export function fillWanted(survey: Survey, photoId: string, wanted: WantedMeasure | null): Survey {
  const line = survey.photos.find(({ id }) => id === photoId)?.lines[0];
  if (wanted?.kind !== 'line' || !line || line.points.length > 0 || line.sheet.at !== null) return survey;
  return setSheet(survey, photoId, line.id, { axis: wanted.axis, at: wanted.at });
}
