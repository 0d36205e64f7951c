import type { Survey } from '../core/survey.ts';
import { changePhoto } from './editPhoto.ts';
import { freeId } from './newSurvey.ts';

/**
 * The survey with a photo said to be taken by the phone as it stood for another photo, not moved in between (null = it was moved). A
 * name that only one photo is left with is dropped.
 */
export function setSamePlace(survey: Survey, photoId: string, otherId: string | null): Survey {
  const other = survey.photos.find(({ id }) => id === otherId);
  if (otherId !== null && (!other || otherId === photoId))
    throw new Error(`photo ${photoId}: expected another photo of the survey, got ${otherId}`);
  const names = survey.photos.flatMap(({ station }) => (station === undefined ? [] : [{ id: station }]));
  const station = other && (other.station ?? freeId('t', names));
  const put = (from: Survey, id: string) =>
    changePhoto(from, id, (photo) => (photo.station === station ? photo : { ...photo, station }));
  const joined = put(other ? put(survey, other.id) : survey, photoId);
  const isAlone = (name: string) => joined.photos.filter((photo) => photo.station === name).length === 1;
  if (!joined.photos.some((photo) => photo.station !== undefined && isAlone(photo.station))) return joined;
  return {
    ...joined,
    photos: joined.photos.map((photo) =>
      photo.station !== undefined && isAlone(photo.station) ? { ...photo, station: undefined } : photo,
    ),
  };
}
