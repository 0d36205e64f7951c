import type { Photo, Survey } from '../core/survey.ts';
import { parseSurvey, writeSurvey } from '../file/survey.ts';

/** A photo as the survey file keeps it, rounded alike, so that a survey solves to the same before and after it was a file. */
export function asFiled(survey: Survey, photo: Photo): Photo {
  return parseSurvey(writeSurvey({ ...survey, photos: [photo] })).photos[0]!;
}
