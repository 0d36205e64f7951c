import { predictCorridor, type Corridor } from '../core/camera/corridor.ts';
import { resectPhoto, type Resection } from '../core/camera/resect.ts';
import { knownSheet } from '../core/camera/sheet.ts';
import { joinByHand } from '../core/line/byHand.ts';
import { findOffWall } from '../core/line/offWall.ts';
import { Refused, type Warning } from '../core/refusal.ts';
import type { LaserLine, Photo, Survey } from '../core/survey.ts';
import { findWanted } from './findLines.ts';
import { LineSearch } from './lineSearch.ts';
import type { OpenCv } from './opencv/types.ts';
import type { Picture } from './picture.ts';

export interface LookOptions {
  /** The picture's EXIF focal length (35 mm equivalent), null when it has none. */
  readonly focal35Mm: number | null;
  /** Look for lines that have points already, too. */
  readonly again?: boolean;
}

export interface LookedPhoto {
  readonly photo: Photo;
  readonly warnings: readonly Warning[];
}

/** Fewer pixels than this: a shrunk photograph, or an old phone's. */
const SMALL_PX = 8e6;
/**
 * The wall lies between these offsets from the laser's plane (mm), and the camera may be wrong by this share
 * of the picture.
 */
const OUT_RANGE_MM = { from: -200, to: 50 };
const CORRIDOR_MARGIN = 0.02;
/** Marks that miss by more than this share of the picture have put the camera somewhere else. */
const USABLE_RMS = 0.003;

/**
 * A photo of the survey with its picture's size and focal length noted and its lines looked for: those
 * without points, or all of them `again` (points set by hand stay). Where marks and stand tell the camera, a
 * line is looked for where its sheet must be seen, and what is off the wall's face (openings, boxes, beyond
 * its ends) is left out. Warns `no_line` for a line that is not to be seen, `photo_small`.
 * @throws picture_too_small under 32 px
 */
export function lookAtPhoto(
  cv: OpenCv,
  picture: Picture,
  survey: Survey,
  photoId: string,
  options: LookOptions,
): LookedPhoto {
  const photo = survey.photos.find(({ id }) => id === photoId);
  if (!photo) throw new Error(`expected a photo of the survey, got ${photoId}`);
  const { widthPx, heightPx } = picture;
  const noted: Photo = {
    ...photo,
    widthPx,
    heightPx,
    focal35Mm: options.focal35Mm ?? photo.focal35Mm ?? null,
  };
  const warnings: Warning[] = [];
  if (widthPx * heightPx < SMALL_PX) warnings.push({ code: 'photo_small', subject: photoId });
  const isWanted = (line: LaserLine) => options.again === true || line.points.length === 0;
  if (!noted.lines.some(isWanted)) return { photo: noted, warnings };
  const search = new LineSearch(cv, picture);
  const resection = tryResection(survey, noted);
  const lines = noted.lines.map((line) =>
    isWanted(line) ? lookForLine(search, survey, noted, line, resection) : line,
  );
  if (
    noted.lines.some((line, i) => isWanted(line) && !lines[i]!.points.some(({ state }) => state === 'found'))
  )
    warnings.push({ code: 'no_line', subject: photoId });
  return { photo: { ...noted, lines }, warnings };
}

function lookForLine(
  search: LineSearch,
  survey: Survey,
  photo: Photo,
  line: LaserLine,
  resection: Resection | null,
): LaserLine {
  const { axis, at } = line.sheet;
  const placed = resection && at !== null ? { camera: resection.camera, sheet: knownSheet(line) } : null;
  const longSidePx = Math.max(photo.widthPx!, photo.heightPx!);
  const corridor: Corridor | undefined = placed
    ? predictCorridor(placed.camera, placed.sheet, survey.wall, OUT_RANGE_MM, CORRIDOR_MARGIN * longSidePx)
    : undefined;
  const found = findWanted(search, { axis, colour: line.colour, corridor, masks: photo.masks });
  if (!found) return { ...line, points: joinByHand(line.points, [], axis).points };
  const off = placed ? findOffWall(found.points, placed.camera, placed.sheet, survey.wall) : [];
  const points = found.points.filter((_, i) => !off[i]);
  return { ...line, ...joinByHand(line.points, points, axis) };
}

/**
 * The camera, when marks and stand allow and roughly agree; null otherwise (then lines are looked for
 * anywhere).
 */
function tryResection(survey: Survey, photo: Photo): Resection | null {
  const lens = survey.phones.find(({ id }) => id === photo.phone)?.lens;
  try {
    const resection = resectPhoto(photo, { k1: lens?.k1 ?? 0, sigma: lens?.sigma ?? 0.01 });
    const longSidePx = Math.max(photo.widthPx!, photo.heightPx!);
    return resection.markRmsPx < USABLE_RMS * longSidePx ? resection : null;
  } catch (thrown) {
    if (thrown instanceof Refused) return null;
    throw thrown;
  }
}
