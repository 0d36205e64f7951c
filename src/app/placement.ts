import { listFellows, poolStands } from '../core/camera/fixedPhone.ts';
import type { LineAxis, Mark, Photo, Survey, WallRect } from '../core/survey.ts';

/** A place on the wall (mm) that a photo is asked to show, and what lies there. */
export interface AskedPlace {
  readonly along: number;
  readonly up: number;
  /** A reading of the tape beside the line, a corner of an opening, or any other place known on the wall. */
  readonly kind: 'tape' | 'corner' | 'place';
}

/** What a photo is taken to show, from the photo before and the wall; every part can be changed. */
export interface Placement {
  /** Height of the line, or its place from the left end (mm); null = nothing to go by. */
  readonly lineMm: number | null;
  /** Place across of the tape that lies beside the line (mm); null = nothing to go by. */
  readonly tapeMm: number | null;
  /** Readings of that tape (mm along it, the smaller first) that are asked. */
  readonly readings: readonly [number, number];
  /** Places beside the tape that are asked, upper left first. */
  readonly places: readonly AskedPlace[];
}

/** A tape is read so far in from each end of the wall where nothing else is known (mm). */
const INSET_MM = 100;
/** Marks whose places differ by no more than this are one place, and lie on one tape (mm). */
export const SAME_PLACE_MM = 0.5;
/** Marks asked beside the tape. */
const PLACES = 2;

const axisOf = (photo: Photo): LineAxis => photo.lines[0]?.sheet.axis ?? 'level';
/** Axis that the tape beside a line runs along. */
export const tapeAxis = (axis: LineAxis): 'along' | 'up' => (axis === 'level' ? 'along' : 'up');
const acrossOf = (axis: LineAxis, mark: Pick<Mark, 'along' | 'up'>) =>
  axis === 'level' ? mark.up : mark.along;
const near = (one: number, other: number) => Math.abs(one - other) <= SAME_PLACE_MM;

/** Opposite corners of a rectangle on the wall, the upper left one first. */
function cornersOf({ along, up, width, height }: WallRect): readonly AskedPlace[] {
  return [
    { along, up: up + height, kind: 'corner' },
    { along: along + width, up, kind: 'corner' },
  ];
}

/** Whether a place (mm) is a corner of an opening of the wall. */
function isCorner(wall: Survey['wall'], { along, up }: Pick<Mark, 'along' | 'up'>): boolean {
  return wall.openings.some(
    (opening) =>
      (near(along, opening.along) || near(along, opening.along + opening.width)) &&
      (near(up, opening.up) || near(up, opening.up + opening.height)),
  );
}

/**
 * Place across of the tape beside a photo's line: where two marks or more lie alike nearest to the line, else where a mark reads one of
 * `readings`; null when no mark is on one.
 */
export function findTape(
  photo: Photo,
  wall: Survey['wall'],
  readings: readonly number[] = [],
): number | null {
  const axis = axisOf(photo);
  const along = tapeAxis(axis);
  const laid = photo.tapes.find((tape) => tape.axis === along && photo.marks[tape.from]);
  if (laid) return acrossOf(axis, photo.marks[laid.from]!);
  const marks = photo.marks.filter((mark) => !isCorner(wall, mark));
  const read = marks.find((mark) => readings.some((reading) => near(reading, mark[along])));
  return read ? acrossOf(axis, read) : null;
}

/** The photo before this one whose line runs the same way and which shows marks. */
function photoBefore(
  photos: readonly Photo[],
  photo: Photo,
  has: (each: Photo) => boolean,
): Photo | undefined {
  const axis = axisOf(photo);
  const at = photos.findIndex(({ id }) => id === photo.id);
  return photos.slice(0, at).findLast((each) => axisOf(each) === axis && !each.leftOut && has(each));
}

/** Next height of a line (or place of a plumb one): the last one and the step before it again, where that is still on the wall. */
function nextLineMm(survey: Survey, photo: Photo): number | null {
  const axis = axisOf(photo);
  const at = survey.photos.findIndex(({ id }) => id === photo.id);
  const placed = survey.photos
    .slice(0, at)
    .flatMap(({ lines }) => lines.filter(({ sheet }) => sheet.axis === axis && sheet.at !== null))
    .map(({ sheet }) => sheet.at!);
  const [last, before] = [placed.at(-1), placed.at(-2)];
  if (last === undefined || before === undefined) return null;
  const next = last + (last - before);
  const room = axis === 'level' ? survey.wall.height : survey.wall.width;
  return next !== last && next > 0 && next < room ? next : null;
}

/**
 * What a photo is taken to show. The line: the step of the two photos before it again. The tape: as far from the line as in the photo
 * before of the same kind. The places: those of that photo that lie still on the wall (ends of its tape, corners of openings, free places);
 * else 100 mm in from each end of the wall, and two opposite corners of the largest opening.
 */
export function proposePlacement(survey: Survey, photoId: string): Placement {
  const photo = survey.photos.find(({ id }) => id === photoId)!;
  const { wall } = survey;
  const axis = axisOf(photo);
  const along = tapeAxis(axis);
  const lineMm = nextLineMm(survey, photo);
  const before = photoBefore(survey.photos, photo, ({ marks }) => marks.length > 1);
  const tapeBefore = before ? findTape(before, wall) : null;
  const lineBefore = before?.lines[0]?.sheet.at ?? null;
  const line = photo.lines[0]?.sheet.at ?? lineMm;
  const tapeMm =
    tapeBefore !== null && lineBefore !== null && line !== null ? line + tapeBefore - lineBefore : null;
  const room = axis === 'level' ? wall.width : wall.height;
  const onTape =
    before && tapeBefore !== null
      ? before.marks.filter((mark) => near(acrossOf(axis, mark), tapeBefore)).map((mark) => mark[along])
      : [];
  const [least, most] = [Math.min(...onTape), Math.max(...onTape)];
  const readings: readonly [number, number] = most > least ? [least, most] : [INSET_MM, room - INSET_MM];
  return { lineMm, tapeMm, readings, places: before ? keptPlaces(before, wall) : firstPlaces(wall) };
}

/** Opposite corners of the wall's largest opening. */
function firstPlaces({ openings }: Survey['wall']): readonly AskedPlace[] {
  const [largest] = [...openings].sort((a, b) => b.width * b.height - a.width * a.height);
  return largest ? cornersOf(largest) : [];
}

/** Marks of a photo that are on none of its tapes and lie still on the wall, corners first, the upper left of two first. */
function keptPlaces(photo: Photo, wall: Survey['wall']): readonly AskedPlace[] {
  const { marks, tapes } = photo;
  const onTape = (mark: Mark) =>
    tapes.some(({ from, axis }) => {
      const across = axis === 'along' ? 'up' : 'along';
      return marks[from] !== undefined && near(marks[from][across], mark[across]);
    });
  const free = marks.filter((mark) => !mark.leftOut && !onTape(mark));
  const corners = free.filter((mark) => isCorner(wall, mark));
  const chosen = [...corners, ...free.filter((mark) => !corners.includes(mark))].slice(0, PLACES);
  if (chosen.length === 0) return firstPlaces(wall);
  return chosen
    .map(({ along, up }): AskedPlace => ({
      along,
      up,
      kind: isCorner(wall, { along, up }) ? 'corner' : 'place',
    }))
    .sort((one, other) => other.up - one.up);
}

/** What is to be asked of a photo next. */
export type Ask =
  | { readonly kind: 'line'; readonly line: string }
  | { readonly kind: 'tape' }
  | { readonly kind: 'mark'; readonly place: AskedPlace }
  /** Fewer marks than hold the photo, and no more place to ask for: the user names one. */
  | { readonly kind: 'free' }
  | { readonly kind: 'done' };

/** A photo holds with so many marks, or with fewer where the phone's place was measured. */
const MARKS_HOLD = { alone: 4, stood: 2 } as const;
/** Marks all nearer than this to one line on the wall do not hold a photo (mm). */
const LEAST_ASIDE_MM = 150;

/** A name for a place that stays, to note that it is not in a picture. */
export const placeKey = ({ along, up, kind }: AskedPlace): string =>
  kind === 'tape' ? `tape ${along} ${up}` : `${along} ${up}`;

/** Whether marks hold a photo by themselves: enough of them, not all on one line. */
function marksHold(marks: readonly Mark[]): boolean {
  if (marks.length < MARKS_HOLD.alone) return false;
  const spread = (key: 'along' | 'up') => {
    const values = marks.map((mark) => mark[key]);
    return Math.max(...values) - Math.min(...values);
  };
  return Math.min(spread('along'), spread('up')) >= LEAST_ASIDE_MM;
}

/**
 * What is to be asked of a photo next, by what the survey holds alone, so that undo and a reload lead to the same question. `tapeMm`: the
 * tape's place where it is told and no mark lies on it yet; `skipped`: names of places (`placeKey`) that are not in the picture.
 */
export function askNext(
  survey: Survey,
  photoId: string,
  { tapeMm, skipped }: { readonly tapeMm: number | null; readonly skipped: readonly string[] },
): Ask {
  const photo = survey.photos.find(({ id }) => id === photoId)!;
  const line = photo.lines.find(({ sheet, leftOut }) => sheet.at === null && !leftOut);
  if (line) return { kind: 'line', line: line.id };
  const together = [photo, ...listFellows(survey.photos, photo)];
  const marks = together.flatMap((each) => each.marks.filter(({ leftOut }) => !leftOut));
  const stand = poolStands(together);
  const stood = stand.off !== null && (stand.up !== null || stand.along !== null);
  if (marksHold(marks) || (stood && marks.length >= MARKS_HOLD.stood)) return { kind: 'done' };
  const { readings, places } = proposePlacement(survey, photoId);
  const axis = axisOf(photo);
  const across = findTape(photo, survey.wall, readings) ?? tapeMm;
  const tapeSkipped = skipped.includes('tape');
  if (across === null && !tapeSkipped) return { kind: 'tape' };
  const onTape = readings.map((reading): AskedPlace =>
    axis === 'level'
      ? { along: reading, up: across ?? 0, kind: 'tape' }
      : { along: across ?? 0, up: reading, kind: 'tape' },
  );
  const asked = [...(tapeSkipped && across === null ? [] : onTape), ...places];
  const open = asked.find(
    (place) =>
      !skipped.includes(placeKey(place)) &&
      !photo.marks.some((mark) => near(mark.along, place.along) && near(mark.up, place.up)),
  );
  return open ? { kind: 'mark', place: open } : { kind: 'free' };
}
