import { refuse } from '../src/core/refusal.ts';
import type { Picture } from '../src/vision/picture.ts';

/** Rows that are read back at a time: phones give no canvas for a whole large picture, or silently an empty one. */
const STRIP_ROWS = 512;
/** One array of this many bytes is the most that is asked for: 128 megapixels, the largest a phone makes and a little. */
const MOST_BYTES = 2 ** 29;

/**
 * Decodes a photograph once, upright and in sRGB, into pixels; `reducedTo` = at this width (px), where there is no memory for
 * the whole.
 * @throws not_a_picture when the browser cannot decode it
 * @throws picture_too_large when there is no memory for its pixels, or no canvas
 */
export async function decodePicture(blob: Blob, file: string, reducedTo?: number): Promise<Picture> {
  // no cropping or turning in this call: browsers disagree on the frame
  const reduced =
    reducedTo === undefined ? {} : ({ resizeWidth: reducedTo, resizeQuality: 'medium' } as const);
  const bitmap = await createImageBitmap(blob, { imageOrientation: 'from-image', ...reduced }).catch(() =>
    refuse({ code: 'not_a_picture', file }),
  );
  const { width: widthPx, height: heightPx } = bitmap;
  try {
    const rgba = readPixels(bitmap);
    return rgba ? { widthPx, heightPx, rgba } : refuse({ code: 'picture_too_large', widthPx, heightPx });
  } finally {
    bitmap.close();
  }
}

/** RGBA of a bitmap, row by row; null when a canvas stayed empty or memory ran out. */
function readPixels(bitmap: ImageBitmap): Uint8ClampedArray | null {
  const { width, height } = bitmap;
  if (4 * width * height > MOST_BYTES) return null;
  const rows = Math.min(STRIP_ROWS, height);
  const context = new OffscreenCanvas(width, rows).getContext('2d', {
    colorSpace: 'srgb',
    willReadFrequently: true,
  });
  if (!context) return null;
  let rgba: Uint8ClampedArray;
  try {
    rgba = new Uint8ClampedArray(4 * width * height);
  } catch {
    return null;
  }
  for (let top = 0; top < height; top += rows) {
    const count = Math.min(rows, height - top);
    context.fillStyle = 'white';
    context.fillRect(0, 0, width, rows);
    context.drawImage(bitmap, 0, -top);
    const { data } = context.getImageData(0, 0, width, count);
    // white lies under everything, so only a canvas that is none has a pixel that is not opaque
    if (data[3] !== 255 || data[data.length - 1] !== 255) return null;
    rgba.set(data, 4 * width * top);
  }
  return rgba;
}
