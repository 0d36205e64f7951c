import type { Warning, WarningCode } from '../refusal.ts';
import type { Photo } from '../survey.ts';

/** Fewer pixels than this ("8 megapixels" are 3264 x 2448): a copy shrunk by a messenger or an upload sheet, or an old phone's picture. */
const SMALL_PX = 7.9e6;
/** Shorter than this (35 mm equivalent, mm) is an ultra-wide camera: bent lines, and pictures stretched to the corners. */
const ULTRA_WIDE_MM = 20;
/** Long over short side of pictures as cameras make them (4:3, 3:2, 16:9, square, 5:4, full screens): common practice, no source. */
const CAMERA_SHAPES = [4 / 3, 3 / 2, 16 / 9, 1, 5 / 4, 2, 19.5 / 9, 20 / 9];
const SHAPE_TOLERANCE = 0.01;

/**
 * What is to be doubted of a photo by its size and EXIF alone, before anything is measured in it: `photo_small` under 8
 * megapixels; else `photo_cropped` for a shape that no camera makes (its middle is then no longer the lens's); `photo_wide`
 * for an ultra-wide camera. Nothing is said of what is not known yet.
 * @example doubtPicture({ id: 'f1', widthPx: 2048, heightPx: 1536 })[0].code // 'photo_small'
 * @example doubtPicture({ id: 'f1', widthPx: 4000, heightPx: 3000, focal35Mm: 26 }).length // 0
 */
export function doubtPicture(photo: Pick<Photo, 'id' | 'widthPx' | 'heightPx' | 'focal35Mm'>): Warning[] {
  const { id, widthPx = 0, heightPx = 0 } = photo;
  const codes: WarningCode[] = [];
  const shape = Math.max(widthPx, heightPx) / Math.min(widthPx, heightPx);
  const usual = CAMERA_SHAPES.some((each) => Math.abs(shape / each - 1) < SHAPE_TOLERANCE);
  if (widthPx > 0 && heightPx > 0) {
    if (widthPx * heightPx < SMALL_PX) codes.push('photo_small');
    else if (!usual) codes.push('photo_cropped');
  }
  const focal35Mm = photo.focal35Mm ?? 0;
  if (focal35Mm > 0 && focal35Mm < ULTRA_WIDE_MM) codes.push('photo_wide');
  return codes.map((code) => ({ code, subject: id }));
}

/** What a picture file tells of how it was taken; null or NaN = it does not tell. */
export interface PictureTold {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly camera: string | null;
  /** The lens's own focal length and the 35 mm one (mm), and the ratio of a digital zoom. */
  readonly focalMm: number | null;
  readonly focal35Mm: number | null;
  readonly digitalZoom: number | null;
}

/** Some phones write a zoom of 1.0 whenever there was none. */
const NO_ZOOM = 1.02;
/** A 35 mm focal length longer than those of the same phone's other pictures by this is a zoom: makers differ by 6 %, a cut to 16:9 adds 9 %. */
const LONGER = 1.15;

const middle = (values: readonly number[]) => [...values].sort((a, b) => a - b)[(values.length - 1) >> 1];
const sizeOf = ({ widthPx, heightPx }: PictureTold) =>
  `${Math.max(widthPx, heightPx)} ${Math.min(widthPx, heightPx)}`;

/** The size that most pictures have, of several as often the one met first. */
function usualSize(pictures: readonly PictureTold[]): string | undefined {
  const counts = new Map<string, number>();
  for (const picture of pictures) counts.set(sizeOf(picture), (counts.get(sizeOf(picture)) ?? 0) + 1);
  return [...counts].reduce((best, each) => (each[1] > best[1] ? each : best), ['', 0])[0];
}

/**
 * What is to be doubted of a photo beside the others that the same phone took, itself among them, in their order: `photo_zoomed`
 * with a digital zoom told, or a longer 35 mm focal length through the same lens than half of them have; `photo_size_odd` for
 * another size than most.
 */
export function doubtBeside(id: string, picture: PictureTold, others: readonly PictureTold[]): Warning[] {
  const fellows = others.filter(({ camera }) => camera === picture.camera);
  const codes: WarningCode[] = [];
  const sameLens = fellows.filter(
    ({ focalMm }) => !focalMm || !picture.focalMm || Math.abs(focalMm / picture.focalMm - 1) < LONGER - 1,
  );
  const usual = middle(sameLens.map(({ focal35Mm }) => focal35Mm ?? 0).filter((focal) => focal > 0));
  const longer = usual !== undefined && (picture.focal35Mm ?? 0) > LONGER * usual;
  if ((picture.digitalZoom ?? 1) > NO_ZOOM || longer) codes.push('photo_zoomed');
  if (fellows.length > 1 && usualSize(fellows) !== sizeOf(picture)) codes.push('photo_size_odd');
  return codes.map((code) => ({ code, subject: id }));
}
