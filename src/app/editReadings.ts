import type { Reading, Survey } from '../core/survey.ts';
import { freeId } from './newSurvey.ts';

/** Standard deviation of a reading taken with care (mm): common practice, no source. */
const READING_SIGMA_MM = 0.7;

/** How far a reading may be from the laser's plane (mm): beyond it something else was typed; own choice. */
export const readingLimitsMm = { least: -500, most: 2000 };

/** A reading to be entered: where the rule was held and what it read (mm); without sigma it has that of the reading before. */
export type NewReading = Pick<Reading, 'along' | 'up' | 'distance'> & { readonly sigma?: number };

/** The sigma that the next reading inherits, mm. */
export const nextSigma = ({ readings }: Pick<Survey, 'readings'>): number =>
  readings.at(-1)?.sigma ?? READING_SIGMA_MM;

/** The survey with readings added at the end, each under the first free id. */
export function addReadings(survey: Survey, added: readonly NewReading[]): Survey {
  const readings = added.reduce<readonly Reading[]>(
    (all, reading) => [
      ...all,
      { id: freeId('r', all), ...reading, sigma: reading.sigma ?? nextSigma({ readings: all }) },
    ],
    survey.readings,
  );
  return added.length === 0 ? survey : { ...survey, readings };
}

/** The survey with a reading changed in part (mm). */
export function setReading(survey: Survey, id: string, part: Partial<NewReading>): Survey {
  return {
    ...survey,
    readings: survey.readings.map((reading) => (reading.id === id ? { ...reading, ...part } : reading)),
  };
}

/** The survey without a reading. */
export function removeReading(survey: Survey, id: string): Survey {
  return { ...survey, readings: survey.readings.filter((reading) => reading.id !== id) };
}
