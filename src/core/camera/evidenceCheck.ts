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
  const count = listClicked(photo).length;
  return count < 2 ? { code: 'marks_few', photo: photo.id, count } : checkMarkPlaces(photo);
}

/**
 * Whether a photo's marks, however few, lie in the picture and each at a place of its own, or null. Clicks in two photos of one unmoved
 * phone on the same graduation are two measurements.
 * @throws Error where the picture's size is missing
 */
export function checkMarkPlaces(photo: Photo): Refusal | null {
  const { widthPx, heightPx } = pictureSize(photo);
  const marks = listClicked(photo);
  const outside = marks.find(
    ({ u, v }) => !(u >= -0.5 && v >= -0.5 && u <= widthPx - 0.5 && v <= heightPx - 0.5),
  );
  if (outside) return { code: 'mark_outside_picture', photo: outside.photo, mark: outside.index };
  for (const second of marks)
    for (const first of marks) {
      if (first === second) break;
      if (first.photo === second.photo && atOnePlace(first, second))
        return { code: 'marks_at_one_place', photo: first.photo, first: first.index, second: second.index };
    }
  return null;
}

/** A mark with the photo and the index that the user knows it by. */
interface ClickedMark extends Mark {
  readonly photo: string;
  readonly index: number;
}

/** The marks set by hand, without those left out and the graduations of tapes. */
function listClicked({ id, marks }: Photo): readonly ClickedMark[] {
  return marks
    .map((mark, index) => ({ ...mark, ...(mark.of ?? { photo: id, index }) }))
    .filter(({ only, leftOut }) => !only && !leftOut);
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
