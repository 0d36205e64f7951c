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
