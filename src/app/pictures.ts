import { uprightSize } from '../file/exif.ts';
import { noteBytes, viewPicture, type PictureLook, type PictureNotes } from './pictureLook.ts';
import type { Session } from './session.svelte.ts';

const looks = new Map<string, Promise<PictureLook | null>>();
const notes = new Map<string, PictureNotes>();
let queue: Promise<unknown> = Promise.resolve();

const keyOf = (session: Session, file: string) => `${session.id} ${file}`;

/** What one look at a photograph of the open survey shows, null when it is not here; looked at one at a time, and kept. */
export function lookAtPicture(session: Session, file: string): Promise<PictureLook | null> {
  const key = keyOf(session, file);
  const known = looks.get(key);
  if (known) return known;
  // one picture in memory at a time
  const made = queue.then(async () => {
    const bytes = await session.readPhoto(file);
    if (!bytes) return null;
    const noted = noteBytes(new Uint8Array(bytes));
    notes.set(key, noted);
    const view = await viewPicture(new Blob([bytes]), uprightSize(noted.facts));
    return view && { ...view, ...noted };
  });
  queue = made.catch(() => undefined);
  looks.set(key, made);
  return made;
}

/** What the bytes of a photograph of the open survey tell without decoding it, null when it is not here. */
export async function notePicture(session: Session, file: string): Promise<PictureNotes | null> {
  const key = keyOf(session, file);
  const known = notes.get(key);
  if (known) return known;
  const bytes = await session.readPhoto(file);
  if (!bytes) return null;
  const noted = noteBytes(new Uint8Array(bytes));
  notes.set(key, noted);
  return noted;
}

/** Keeps what was seen of a photograph when it was put in; what was known of another picture of that name is forgotten. */
export function keepLook(session: Session, file: string, look: PictureLook): void {
  looks.set(keyOf(session, file), Promise.resolve(look));
  notes.set(keyOf(session, file), look);
}

/** Nothing of a picture is seen to change at this JPEG quality. */
const CONVERTED_QUALITY = 0.97;

/**
 * A picture of a kind that the browser can read but the survey does not keep (HEIC, AVIF, WebP) as an upright sRGB JPEG without
 * any notes; null when the browser cannot read it, or has no canvas of its size.
 */
export async function convertPicture(blob: Blob): Promise<ArrayBuffer | null> {
  try {
    const bitmap = await createImageBitmap(blob, { imageOrientation: 'from-image' });
    const { width, height } = bitmap;
    const canvas = new OffscreenCanvas(width, height);
    const context = canvas.getContext('2d', { colorSpace: 'srgb' })!;
    context.fillStyle = 'white';
    context.fillRect(0, 0, width, height);
    context.drawImage(bitmap, 0, 0);
    bitmap.close();
    // a canvas that is too large stays empty without a word
    if (context.getImageData(width - 1, height - 1, 1, 1).data[3] !== 255) return null;
    const jpeg = await canvas.convertToBlob({ type: 'image/jpeg', quality: CONVERTED_QUALITY });
    return jpeg.type === 'image/jpeg' ? await jpeg.arrayBuffer() : null;
  } catch {
    return null;
  }
}
