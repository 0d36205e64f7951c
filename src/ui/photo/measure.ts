import { imageFromWall, wallFromImageOnPlane, wallFromImageOnSheet } from '../../core/camera/camera.ts';
import type { ImagePoint, WallPoint } from '../../core/camera/frames.ts';
import { expectPhoto, type ExpectedPhoto } from '../../core/camera/expectation.ts';
import { poolEvidence } from '../../core/camera/fixedPhone.ts';
import { checkLine } from '../../core/camera/lineCheck.ts';
import { predictOffsetSigma, type OffsetSigma } from '../../core/camera/offsetSigma.ts';
import { resectPhoto, type LensPrior, type ResectContext, type Resection } from '../../core/camera/resect.ts';
import { pointOnSheet } from '../../core/camera/sheet.ts';
import { triangulateLine, type Triangulation } from '../../core/camera/triangulate.ts';
import { Refused, type Refusal } from '../../core/refusal.ts';
import type { LaserLine, Mark, Phone, Photo, Reading } from '../../core/survey.ts';

/** Where a photograph was taken from, or why that cannot be said. */
export type Placing =
  | { readonly resection: Resection; readonly refusal: null }
  | { readonly resection: null; readonly refusal: Refusal };

/** What one photograph by itself says of one line, or why it says nothing. */
export type Seen =
  | { readonly found: Triangulation; readonly sigma: OffsetSigma; readonly refusal: null }
  | { readonly found: null; readonly sigma: null; readonly refusal: Refusal };

/** Mean offset of the wall from the laser's plane by the readings (mm); 0 without any. */
export function meanOutMm(readings: readonly Reading[]): number {
  if (readings.length === 0) return 0;
  return -readings.reduce((sum, reading) => sum + reading.distance, 0) / readings.length;
}

/** What a phone's profile says of its lens before the photograph. */
export function readPrior({ k1, sigma, k2 = 0 }: Phone['lens']): LensPrior {
  return { k1: k1 ?? 0, sigma, k2 };
}

/** Marks that lie `outMm` off the laser's plane on a wall uneven by `reliefMm` (sigma). */
export function spreadMarks(marks: readonly Mark[], outMm: number, reliefMm: number): ResectContext {
  return { markOutMm: marks.map(() => outMm), markOutSigmaMm: reliefMm };
}

/**
 * Where a photograph was taken from by its own evidence and that of its fellows, photos by the same unmoved phone; the marks lie `outMm` off
 * the laser's plane on a wall uneven by `reliefMm` (sigma).
 */
export function placePhoto(
  photo: Photo,
  lens: Phone['lens'],
  outMm: number,
  reliefMm = 0,
  fellows: readonly Photo[] = [],
): Placing {
  if (!(photo.widthPx! > 0 && photo.heightPx! > 0))
    return { resection: null, refusal: { code: 'photo_missing', photo: photo.id, file: photo.file } };
  try {
    const pooled = poolEvidence(photo, fellows);
    const context = spreadMarks(pooled.marks, outMm, reliefMm);
    return { resection: resectPhoto(pooled, readPrior(lens), context), refusal: null };
  } catch (thrown) {
    if (thrown instanceof Refused) return { resection: null, refusal: thrown.refusal };
    throw thrown;
  }
}

/** A line as seen from where the photograph was taken. */
export function seeLine(photo: Photo, line: LaserLine, placing: Placing): Seen {
  const { resection } = placing;
  const refusal = resection ? checkLine(photo, line, resection) : placing.refusal;
  if (refusal || !resection) return { found: null, sigma: null, refusal: refusal! };
  const sigma = predictOffsetSigma(resection, line);
  return { found: triangulateLine(resection.camera, line), sigma, refusal: null };
}

/** The place on the wall (mm) of an image point that lies on a line; null where it cannot be said. */
export function placeOnLine(placing: Placing, line: LaserLine, at: ImagePoint): WallPoint | null {
  const { resection } = placing;
  if (!resection || line.sheet.at === null) return null;
  const { axis } = line.sheet;
  const place = wallFromImageOnSheet(resection.camera, at, { axis, at: line.sheet.at });
  return Number.isFinite(place.out) ? place : null;
}

/** The image point (px) of a place on a line's sheet, `s` along it and `out` off the laser's plane (mm); null where it cannot be said. */
export function imageOnLine(placing: Placing, line: LaserLine, s: number, out: number): ImagePoint | null {
  const { axis, at } = line.sheet;
  if (!placing.resection || at === null) return null;
  const image = imageFromWall(placing.resection.camera, pointOnSheet({ axis, at }, s, out));
  return Number.isFinite(image.u) ? image : null;
}

/** Where on the wall (mm) an image point beside the line lies, about: for a first guess at what a tape reads there. */
export function placeOnWall(placing: Placing, at: ImagePoint, outMm: number): WallPoint | null {
  if (!placing.resection) return null;
  const place = wallFromImageOnPlane(placing.resection.camera, at, outMm);
  return Number.isFinite(place.along) ? place : null;
}

/** Sigma of a found point across the line (px) that a photograph not yet searched is judged by. */
const POINT_SIGMA_PX = 0.15;

/**
 * What a photograph will show of a line by its measured stand and focal length alone, before any mark is set; null where
 * one of them is not known.
 */
export function expectLine(photo: Photo, line: LaserLine, longSidePx: number): ExpectedPhoto | null {
  const { stand, focal35Mm } = photo;
  const { axis, at } = line.sheet;
  const place = axis === 'level' ? stand.up : stand.along;
  if (stand.off === null || !(stand.off > 0) || place === null || at === null || !(focal35Mm! > 0))
    return null;
  const planned = { offMm: stand.off, asideMm: place - at, focal35Mm: focal35Mm!, longSidePx };
  return expectPhoto({ ...planned, pointSigmaPx: POINT_SIGMA_PX });
}
