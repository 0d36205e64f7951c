import type { LaserLine, LineAxis, Photo, Survey } from '../core/survey.ts';

/** Index of the item with that id. @throws Error when there is none: the caller asked for what is not there */
function indexOfId(items: readonly { readonly id: string }[], id: string, kind: string): number {
  const index = items.findIndex((item) => item.id === id);
  if (index < 0)
    throw new Error(`${kind}: expected one of ${items.map((item) => item.id).join(', ')}, got ${id}`);
  return index;
}

/** The item at an index. @throws Error when the index is none of the list's */
export function itemAt<T>(items: readonly T[], index: number, kind: string): T {
  const item = items[index];
  if (item === undefined) throw new Error(`${kind}: expected an index below ${items.length}, got ${index}`);
  return item;
}

/** The list with the item at `index` put to another value; the same list when the value is the same. */
export function replaceAt<T>(items: readonly T[], index: number, item: T): readonly T[] {
  return items[index] === item ? items : items.map((each, at) => (at === index ? item : each));
}

/** The survey with one photo changed; the same survey when the photo comes back the same. */
export function changePhoto(survey: Survey, photoId: string, change: (photo: Photo) => Photo): Survey {
  const index = indexOfId(survey.photos, photoId, 'photo');
  const photo = survey.photos[index]!;
  const next = change(photo);
  return next === photo ? survey : { ...survey, photos: replaceAt(survey.photos, index, next) };
}

/** The survey with one line of one photo changed; the same survey when the line comes back the same. */
export function changeLine(
  survey: Survey,
  photoId: string,
  lineId: string,
  change: (line: LaserLine) => LaserLine,
): Survey {
  return changePhoto(survey, photoId, (photo) => {
    const index = indexOfId(photo.lines, lineId, `line of photo ${photoId}`);
    const line = photo.lines[index]!;
    const next = change(line);
    return next === line ? photo : { ...photo, lines: replaceAt(photo.lines, index, next) };
  });
}

/**
 * The image axis a line runs along: the one its points are ordered by and its gaps are told in.
 * @example runAxis('plumb') // 'v'
 */
export function runAxis(axis: LineAxis): 'u' | 'v' {
  return axis === 'level' ? 'u' : 'v';
}
