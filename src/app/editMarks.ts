import type { ImagePoint } from '../core/camera/frames.ts';
import type { Mark, Stand, Survey, Tape } from '../core/survey.ts';
import { changePhoto, itemAt, replaceAt } from './editPhoto.ts';
import { joinTape, tapesUnread, tapesWithout } from './editTapes.ts';

/** Standard deviation of a mark clicked with care (px): common practice, no source. */
export const MARK_SIGMA_PX = 1;

/** The survey with one more mark on a photo; the marks before keep their numbers. */
export function addMark(survey: Survey, photoId: string, mark: Mark): Survey {
  return changePhoto(survey, photoId, (photo) => ({ ...photo, marks: [...photo.marks, mark] }));
}

/** The survey with one more mark, read off a tape that lies along `axis`: the tape is made, or made to reach it. */
export function addTapeMark(
  survey: Survey,
  photoId: string,
  mark: Mark,
  tape: Pick<Tape, 'axis' | 'pitch'>,
): Survey {
  return changePhoto(survey, photoId, (photo) => {
    const marks = [...photo.marks, mark];
    return { ...photo, marks, tapes: joinTape(photo.tapes, marks, marks.length - 1, tape) };
  });
}

/** The survey with one mark moved in the picture (px). */
export function moveMark(survey: Survey, photoId: string, index: number, to: ImagePoint): Survey {
  return setMark(survey, photoId, index, { u: to.u, v: to.v });
}

/** The survey with what one mark says changed: its place on the wall (mm) or its sigma in the picture (px). */
export function setMarkPlace(
  survey: Survey,
  photoId: string,
  index: number,
  place: Partial<Pick<Mark, 'along' | 'up' | 'sigma'>>,
): Survey {
  return setMark(survey, photoId, index, place);
}

/** The survey without one mark; tapes keep pointing at the marks they meant, and one that loses its end ends sooner. */
export function deleteMark(survey: Survey, photoId: string, index: number): Survey {
  return changePhoto(survey, photoId, (photo) => {
    itemAt(photo.marks, index, 'mark');
    const marks = photo.marks.filter((_, at) => at !== index);
    return { ...photo, marks, tapes: tapesWithout(photo.tapes, photo.marks, index) };
  });
}

/** The survey with where the phone stood changed in part (mm; null = not measured). */
export function setStand(survey: Survey, photoId: string, part: Partial<Stand>): Survey {
  return changePhoto(survey, photoId, (photo) => ({ ...photo, stand: { ...photo.stand, ...part } }));
}

function setMark(survey: Survey, photoId: string, index: number, part: Partial<Mark>): Survey {
  return changePhoto(survey, photoId, (photo) => {
    const mark = { ...itemAt(photo.marks, index, 'mark'), ...part };
    const marks = replaceAt(photo.marks, index, mark);
    const moved = ['u', 'v', 'along', 'up'].some((key) => key in part);
    const tapes = moved ? tapesUnread(photo.tapes, photo.marks, index) : photo.tapes;
    return { ...photo, marks, tapes };
  });
}
