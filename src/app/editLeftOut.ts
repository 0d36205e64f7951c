import type { Residual } from '../core/results.ts';
import type { Survey } from '../core/survey.ts';
import { tapesUnread } from './editTapes.ts';
import { changeLine, changePhoto, itemAt, replaceAt } from './editPhoto.ts';

/** A piece of evidence that can be left out by hand. */
export type Evidence =
  | { readonly kind: 'reading'; readonly reading: string }
  | { readonly kind: 'line'; readonly photo: string; readonly line: string }
  | { readonly kind: 'mark'; readonly photo: string; readonly mark: number }
  | { readonly kind: 'photo'; readonly photo: string };

/** The photo and line that a name of the solve means: "l1", or "f2/l1" where other photos have a line l1 too. */
export function findLine(survey: Survey, name: string): { photo: string; line: string } | null {
  for (const photo of survey.photos)
    for (const { id } of photo.lines)
      if (name === id || name === `${photo.id}/${id}`) return { photo: photo.id, line: id };
  return null;
}

/**
 * What a residual is of, as the survey has it now; null where it cannot be left out by itself (a stand, a packer, the
 * graduations of a tape) or is no longer there.
 */
export function findEvidence(survey: Survey, { kind, subject, index }: Residual): Evidence | null {
  if (kind === 'reading')
    return survey.readings.some(({ id }) => id === subject) ? { kind, reading: subject } : null;
  if (kind === 'line') {
    const found = findLine(survey, subject);
    return found && { kind, ...found };
  }
  const photo = survey.photos.find(({ id }) => id === subject);
  if (kind !== 'mark' || index === undefined || !photo?.marks[index]) return null;
  return { kind, photo: subject, mark: index };
}

/** Whether a piece of evidence is left out by hand, itself or with its photo. */
export function isLeftOut(survey: Survey, evidence: Evidence): boolean {
  if (evidence.kind === 'reading')
    return survey.readings.some(({ id, leftOut }) => id === evidence.reading && leftOut === true);
  const photo = survey.photos.find(({ id }) => id === evidence.photo);
  if (!photo || evidence.kind === 'photo' || photo.leftOut) return photo?.leftOut === true;
  if (evidence.kind === 'mark') return photo.marks[evidence.mark]?.leftOut === true;
  return photo.lines.some(({ id, leftOut }) => id === evidence.line && leftOut === true);
}

/** Everything that is left out by hand, readings first; of a photo left out whole not its parts. */
export function listLeftOut(survey: Survey): Evidence[] {
  const readings = survey.readings
    .filter(({ leftOut }) => leftOut)
    .map(({ id }): Evidence => ({ kind: 'reading', reading: id }));
  const parts = survey.photos.flatMap((photo): Evidence[] => {
    if (photo.leftOut) return [{ kind: 'photo', photo: photo.id }];
    const lines = photo.lines.filter(({ leftOut }) => leftOut);
    const marks = [...photo.marks.keys()].filter((mark) => photo.marks[mark]!.leftOut);
    return [
      ...lines.map(({ id }): Evidence => ({ kind: 'line', photo: photo.id, line: id })),
      ...marks.map((mark): Evidence => ({ kind: 'mark', photo: photo.id, mark })),
    ];
  });
  return [...readings, ...parts];
}

/** The item left out by hand, or taken in again; the same item when it is so already. */
function markLeftOut<T extends { readonly leftOut?: boolean | undefined }>(item: T, leftOut: boolean): T {
  if ((item.leftOut === true) === leftOut) return item;
  return { ...item, leftOut: leftOut ? true : undefined };
}

/** The survey with a piece of evidence left out of the solve by hand, or taken in again; the same survey when it is so already. */
export function setLeftOut(survey: Survey, evidence: Evidence, leftOut: boolean): Survey {
  if (evidence.kind === 'reading') {
    const at = survey.readings.findIndex(({ id }) => id === evidence.reading);
    const readings = replaceAt(
      survey.readings,
      at,
      markLeftOut(itemAt(survey.readings, at, 'reading'), leftOut),
    );
    return readings === survey.readings ? survey : { ...survey, readings };
  }
  if (evidence.kind === 'photo')
    return changePhoto(survey, evidence.photo, (photo) => markLeftOut(photo, leftOut));
  if (evidence.kind === 'line')
    return changeLine(survey, evidence.photo, evidence.line, (line) => markLeftOut(line, leftOut));
  return changePhoto(survey, evidence.photo, (photo) => {
    const marks = replaceAt(
      photo.marks,
      evidence.mark,
      markLeftOut(itemAt(photo.marks, evidence.mark, 'mark'), leftOut),
    );
    return marks === photo.marks ? photo : { ...photo, marks };
  });
}

/** The survey with the spots in the picture of two marks of a photo exchanged: each was given the other's name. */
export function swapMarks(survey: Survey, photoId: string, first: number, second: number): Survey {
  return changePhoto(survey, photoId, (photo) => {
    const [a, b] = [itemAt(photo.marks, first, 'mark'), itemAt(photo.marks, second, 'mark')];
    const spot = ({ u, v, sigma }: typeof a) => ({ u, v, sigma });
    const swapped = replaceAt(photo.marks, first, { ...a, ...spot(b) });
    const marks = replaceAt(swapped, second, { ...b, ...spot(a) });
    const tapes = [first, second].reduce((left, at) => tapesUnread(left, photo.marks, at), photo.tapes);
    return { ...photo, marks, tapes };
  });
}
