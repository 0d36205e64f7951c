import { doubtBeside, doubtPicture, type PictureTold } from '../core/camera/pictureDoubt.ts';
import type { Warning } from '../core/refusal.ts';
import type { Photo } from '../core/survey.ts';
import { findTwin, type PictureTrace, type Twin } from './duplicates.ts';
import type { PictureLook } from './pictureLook.ts';

/** What one look at a picture gives that its doubts rest on. */
export type Looked = Pick<
  PictureLook,
  'facts' | 'length' | 'hash' | 'widthPx' | 'heightPx' | 'blurred' | 'print'
>;

/** A photo with its look; undefined = not looked at yet, null = the picture is not here. */
export interface LookedPhoto {
  readonly photo: Pick<Photo, 'id' | 'widthPx' | 'heightPx' | 'focal35Mm'>;
  readonly look: Looked | null | undefined;
}

const tell = ({ photo, look }: LookedPhoto): PictureTold => ({
  widthPx: photo.widthPx ?? look?.widthPx ?? 0,
  heightPx: photo.heightPx ?? look?.heightPx ?? 0,
  camera: look?.facts.camera ?? null,
  focalMm: look?.facts.focalMm ?? null,
  focal35Mm: look?.facts.focal35Mm ?? photo.focal35Mm ?? null,
  digitalZoom: look?.facts.digitalZoom ?? null,
});

const traceOf = (look: Looked): PictureTrace => ({ ...look, takenAt: look.facts.takenAt });

/**
 * What is to be doubted of a photo by its picture, beside those of all `photos`, itself among them: size, shape, lens, zoom, blur.
 * Of a small or cut picture it is not said again that its size is another one.
 */
export function listPictureDoubts(of: LookedPhoto, photos: readonly LookedPhoto[]): Warning[] {
  const { id } = of.photo;
  const alone = doubtPicture(of.photo);
  const shrunk = alone.some(({ code }) => code === 'photo_small' || code === 'photo_cropped');
  // until all are looked at nobody knows what is usual
  const known = photos.every(({ look }) => look !== undefined);
  const beside =
    of.look && known ? doubtBeside(id, tell(of), photos.filter(({ look }) => look).map(tell)) : [];
  const blurred: Warning[] = of.look?.blurred ? [{ code: 'photo_blurred', subject: id }] : [];
  return [...alone, ...blurred, ...beside.filter(({ code }) => !(shrunk && code === 'photo_size_odd'))];
}

/** The photo before this one in the survey that shows the same picture; null for none. */
export function findEarlierTwin(of: LookedPhoto, photos: readonly LookedPhoto[]): Twin | null {
  if (!of.look) return null;
  const at = photos.findIndex(({ photo }) => photo.id === of.photo.id);
  const before = photos
    .slice(0, Math.max(0, at))
    .flatMap(({ photo, look }) => (look ? [[photo.id, traceOf(look)] as const] : []));
  return findTwin(traceOf(of.look), before);
}
