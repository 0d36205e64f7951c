import type { Session } from './session.svelte.ts';

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

/** Width and height (px) of a photograph as it stands upright; null when the browser cannot decode it. */
export async function readPictureSize(blob: Blob): Promise<{ widthPx: number; heightPx: number } | null> {
  try {
    const bitmap = await createImageBitmap(blob, { imageOrientation: 'from-image' });
    const size = { widthPx: bitmap.width, heightPx: bitmap.height };
    bitmap.close();
    return size;
  } catch {
    return null;
  }
}
