import type { Refusal } from '../refusal.ts';
import type { Mark, Photo } from '../survey.ts';
import { pictureSize } from './evidence.ts';

/** Marks on the wall nearer than this are one place (mm). */
const SAME_PLACE_MM = 1;
/** Marks in the picture nearer than so many of their sigmas are one place. */
const SAME_PLACE_SIGMAS = 3;
/** Marks that place a camera without any measured stand (with EXIF or perspective giving the focal length). */
const MARKS_WITHOUT_STAND = 4;

/**
 * What is wrong with a photo's marks before any sum is done, or null.
 * @throws Error where the picture's size is missing
 */
export function checkMarks(photo: Photo): Refusal | null {
  const { widthPx, heightPx } = pictureSize(photo);
  const marks = listClicked(photo);
  const { id } = photo;
  if (marks.length < 2) return { code: 'marks_few', photo: id, count: marks.length };
  const outside = marks.findIndex(
    ({ u, v }) => !(u >= -0.5 && v >= -0.5 && u <= widthPx - 0.5 && v <= heightPx - 0.5),
  );
  if (outside >= 0) return { code: 'mark_outside_picture', photo: id, mark: outside };
  for (let second = 1; second < marks.length; second++)
    for (let first = 0; first < second; first++)
      if (atOnePlace(marks[first]!, marks[second]!))
        return { code: 'marks_at_one_place', photo: id, first, second };
  return null;
}

/** The marks set by hand; graduations of a tape come after them. */
function listClicked({ marks }: Photo): readonly Mark[] {
  return marks.filter(({ only }) => !only);
}

function atOnePlace(one: Mark, other: Mark): boolean {
  const apartPx = Math.hypot(one.u - other.u, one.v - other.v);
  const apartMm = Math.hypot(one.along - other.along, one.up - other.up);
  return apartPx <= SAME_PLACE_SIGMAS * Math.hypot(one.sigma, other.sigma) || apartMm < SAME_PLACE_MM;
}

/** Whether the measured stand can do: something measured, or at least four marks. Null when it can. */
export function checkStand(photo: Photo): Refusal | null {
  const { off, up, along } = photo.stand;
  const nothing = off === null && up === null && along === null;
  return nothing && listClicked(photo).length < MARKS_WITHOUT_STAND
    ? { code: 'stand_missing', photo: photo.id }
    : null;
}

/** Beyond this the offsets are undetermined and the number says nothing more (mm). */
const UNDETERMINED_MM = 1000;

/**
 * The refusal for weak geometry: `stand_missing` where the stand lacks its distance or both its sideways measures, else
 * `stand_weak` with the expected sigma (mm), 1000 standing for a metre or more.
 */
export function describeWeakStand(photo: Photo, offsetSigmaMm: number): Refusal {
  const { off, up, along } = photo.stand;
  return off === null || (up === null && along === null)
    ? { code: 'stand_missing', photo: photo.id }
    : { code: 'stand_weak', photo: photo.id, offsetSigmaMm: Math.min(offsetSigmaMm, UNDETERMINED_MM) };
}
