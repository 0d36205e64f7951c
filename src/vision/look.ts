import { doubtPicture } from '../core/camera/pictureDoubt.ts';
import { resectPhoto, type Resection } from '../core/camera/resect.ts';
import { listFellows, poolEvidence } from '../core/camera/fixedPhone.ts';
import { knownSheet } from '../core/camera/sheet.ts';
import { joinByHand } from '../core/line/byHand.ts';
import { bridgeCrossings } from '../core/line/crossing.ts';
import { expectCorridor } from '../core/line/expectedCorridor.ts';
import { findOffWall } from '../core/line/offWall.ts';
import { listUnseenPins } from '../core/line/pins.ts';
import { readLens } from '../core/solve/network.ts';
import { Refused, type Warning, type WarningCode } from '../core/refusal.ts';
import type { LaserLine, Photo, Survey } from '../core/survey.ts';
import { findWanted } from './findLines.ts';
import { fitLaserOff } from './laserOffFit.ts';
import { LineSearch } from './lineSearch.ts';
import type { OpenCv } from './opencv/types.ts';
import type { Picture } from './picture.ts';
import { readTapes } from './tape.ts';

export interface LookOptions {
  /** The picture's EXIF focal length (35 mm equivalent), null when it has none. */
  readonly focal35Mm: number | null;
  /** Look for lines that have points already, too. */
  readonly again?: boolean;
  /** Look for this line only, whether it has points or not. */
  readonly only?: string | undefined;
  /** The decoded picture of the same view with the laser off, where the photo has one and it can be read. */
  readonly laserOff?: Picture | null | undefined;
}

export interface LookedPhoto {
  readonly photo: Photo;
  readonly warnings: readonly Warning[];
}

/** Marks that miss by more than this share of the picture have put the camera somewhere else. */
const USABLE_RMS = 0.003;

/**
 * A photo of the survey with its picture's size and focal length noted, its tapes read and its lines looked for: those
 * without points, or all of them `again` (points set by hand stay), but none that are left out by hand. Where marks and stand tell the camera, a
 * line is looked for where its sheet must be seen, and what is off the wall's face (openings, edges of boxes, beyond
 * its ends) is left out. Warns `no_line` for a line that is not to be seen, `pin_unseen` for pins with no light near them,
 * `off_wall` of points that were left out, `laser_off_unfit` for a picture with the laser off that cannot be used, and of what `doubtPicture` doubts.
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
  const sized: Photo = {
    ...photo,
    widthPx,
    heightPx,
    focal35Mm: options.focal35Mm ?? photo.focal35Mm ?? null,
  };
  const clicked = { ...sized, tapes: [] };
  const noted = readTapes(picture, sized, options.again, () => tryResection(survey, clicked)?.camera ?? null);
  const warnings: Warning[] = [];
  warnings.push(...doubtPicture(noted));
  const { again = false, only } = options;
  const isWanted = (line: LaserLine) =>
    only === undefined ? !line.leftOut && (again || line.points.length === 0) : line.id === only;
  if (!noted.lines.some(isWanted)) return { photo: noted, warnings };
  const off = options.laserOff ? fitLaserOff(cv, picture, options.laserOff) : null;
  if (photo.laserOff !== undefined && !off) warnings.push({ code: 'laser_off_unfit', subject: photoId });
  const search = new LineSearch(off ? { ...picture, laserOff: off } : picture);
  const resection = tryResection(survey, noted);
  const looked = bridgeLooked(
    noted.lines,
    noted.lines.filter(isWanted).map((line) => lookForLine(search, survey, noted, line, resection)),
  );
  const lines = noted.lines.map((line) => looked.find((each) => each.line.id === line.id)?.line ?? line);
  if (looked.some(({ line }) => !line.points.some(({ state }) => state === 'found')))
    warnings.push({ code: 'no_line', subject: photoId });
  const count = (code: WarningCode, of: (each: LookedLine) => number) => {
    const sum = looked.reduce((total, each) => total + of(each), 0);
    if (sum > 0) warnings.push({ code, subject: photoId, count: sum });
  };
  count('pin_unseen', ({ line }) => listUnseenPins(line, Math.max(widthPx, heightPx)).length);
  count('off_wall', ({ offWall }) => offWall);
  return { photo: { ...noted, lines }, warnings };
}

interface LookedLine {
  readonly line: LaserLine;
  /** Points seen that were left out, since they are not on the wall's face. */
  readonly offWall: number;
  /** Full width at half maximum (px); NaN when it was not seen. */
  readonly widthPx: number;
}

/** The lines that were looked for, bridged where they cross each other or another line of the photo. */
function bridgeLooked(all: readonly LaserLine[], looked: readonly LookedLine[]): LookedLine[] {
  const usualPx = Math.max(0, ...looked.map(({ widthPx }) => widthPx).filter(Number.isFinite));
  const others = all.filter((line) => !looked.some((each) => each.line.id === line.id));
  const lines = [...looked.map(({ line }) => line), ...others];
  const points = bridgeCrossings(
    lines.map((line, i) => ({
      axis: line.sheet.axis,
      points: line.points,
      widthPx: looked[i]?.widthPx || usualPx,
    })),
  );
  return looked.map((each, i) => {
    const { line } = each;
    if (points[i] === line.points) return each;
    return { ...each, line: { ...line, ...joinByHand([], points[i]!, line.sheet.axis, line.gaps) } };
  });
}

function lookForLine(
  search: LineSearch,
  survey: Survey,
  photo: Photo,
  line: LaserLine,
  resection: Resection | null,
): LookedLine {
  const { axis, at } = line.sheet;
  const placed = resection && at !== null ? { camera: resection.camera, sheet: knownSheet(line) } : null;
  const longSidePx = Math.max(photo.widthPx!, photo.heightPx!);
  const corridor = resection ? expectCorridor(resection.camera, line, survey.wall, longSidePx) : null;
  const { colour, pins } = line;
  const found = findWanted(search, {
    axis,
    colour,
    corridor: corridor ?? undefined,
    masks: photo.masks,
    pins,
  });
  if (!found)
    return { line: { ...line, points: joinByHand(line.points, [], axis).points }, offWall: 0, widthPx: NaN };
  const off = placed ? findOffWall(found.points, placed.camera, placed.sheet, survey.wall) : [];
  const points = found.points.filter((_, i) => !off[i]);
  const offWall = found.points.length - points.length;
  return {
    line: { ...line, ...joinByHand(line.points, points, axis, line.gaps) },
    offWall,
    widthPx: found.widthPx,
  };
}

/**
 * The camera, when marks and stand (of all photos by the same unmoved phone) allow and roughly agree; null otherwise (then lines are looked for
 * anywhere).
 */
function tryResection(survey: Survey, photo: Photo): Resection | null {
  try {
    const evidence = poolEvidence(photo, listFellows(survey.photos, photo));
    const resection = resectPhoto(evidence, readLens(survey, photo.phone));
    const longSidePx = Math.max(photo.widthPx!, photo.heightPx!);
    return resection.markRmsPx < USABLE_RMS * longSidePx ? resection : null;
  } catch (thrown) {
    if (thrown instanceof Refused) return null;
    throw thrown;
  }
}
