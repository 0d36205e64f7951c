import type { Session } from './session.svelte.ts';

interface PictureSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Long side of a preview, px. */
const PREVIEW_PX = 360;

const previews = new Map<string, Promise<string | null>>();
let queue: Promise<unknown> = Promise.resolve();

/** Address of a small copy of a photograph of the open survey, null when it is not here; made one at a time, kept. */
export function previewUrl(session: Session, file: string): Promise<string | null> {
  const key = `${session.id} ${file}`;
  const known = previews.get(key);
  if (known) return known;
  // one picture in memory at a time
  const made = queue.then(async () => {
    const bytes = await session.readPhoto(file);
    return bytes ? makePreview(new Blob([bytes])) : null;
  });
  queue = made.catch(() => undefined);
  previews.set(key, made);
  return made;
}

/** Forgets the preview of a photograph that was put in anew. */
export function dropPreview(session: Session, file: string): void {
  previews.delete(`${session.id} ${file}`);
}

async function makePreview(blob: Blob): Promise<string | null> {
  try {
    const bitmap = await createImageBitmap(blob, { imageOrientation: 'from-image', resizeWidth: PREVIEW_PX });
    const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
    canvas.getContext('2d')?.drawImage(bitmap, 0, 0);
    bitmap.close();
    return URL.createObjectURL(await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.8 }));
  } catch {
    return null;
  }
}

/** A picture of more pixels than this is not decoded whole only to learn its size. */
const LARGE_PX = 24e6;

/**
 * Width and height (px) of a photograph as it stands upright, `told` by its file where that is a large one; null when the
 * browser cannot decode it.
 */
export async function readPictureSize(blob: Blob, told: PictureSize | null): Promise<PictureSize | null> {
  const large = told !== null && told.widthPx * told.heightPx > LARGE_PX;
  const upright = { imageOrientation: 'from-image' } as const;
  try {
    const bitmap = await createImageBitmap(blob, large ? { ...upright, resizeWidth: PREVIEW_PX } : upright);
    const size = { widthPx: bitmap.width, heightPx: bitmap.height };
    bitmap.close();
    return large ? told : size;
  } catch {
    return null;
  }
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
