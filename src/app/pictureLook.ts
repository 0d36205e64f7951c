import { readPictureFacts, type PictureFacts } from '../file/exif.ts';
import { BLURRED_PX, JUDGED_PX, measureBlur, type GreyLevels } from '../vision/sharpness.ts';
import { hashBytes, makePrint } from './duplicates.ts';

/** What the bytes of a picture tell without decoding it. */
export interface PictureNotes {
  readonly facts: PictureFacts;
  readonly length: number;
  readonly hash: number;
}

/** What one decoding of a picture shows. */
export interface PictureView {
  /** Size of the upright picture; of a large one as the browser reduced it. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** Address of a small copy. */
  readonly url: string;
  /** No edge in it is sharp. */
  readonly blurred: boolean;
  readonly print: Uint8Array;
}

/** What is known of a kept picture by looking at it once. */
export interface PictureLook extends PictureView, PictureNotes {}

/** Long side of a small copy, px. */
const SMALL_PX = 480;
/** A picture of more pixels than this is not decoded whole. */
const LARGE_PX = 24e6;

/** Reads what the bytes of a picture tell of it. */
export function noteBytes(bytes: Uint8Array): PictureNotes {
  return { facts: readPictureFacts(bytes), length: bytes.length, hash: hashBytes(bytes) };
}

/** Draws a picture so that its long side has at most `mostPx`. */
function reduce(source: ImageBitmap | OffscreenCanvas, mostPx: number) {
  const share = Math.min(1, mostPx / Math.max(source.width, source.height));
  const [width, height] = [source.width, source.height].map((side) => Math.max(1, Math.round(side * share)));
  const canvas = new OffscreenCanvas(width!, height!);
  const context = canvas.getContext('2d', { willReadFrequently: true })!;
  context.imageSmoothingQuality = 'high';
  context.drawImage(source, 0, 0, canvas.width, canvas.height);
  return { canvas, context };
}

/** Grey levels of what was drawn (ITU-R BT.601 weights, in 256ths). */
function readGrey(canvas: OffscreenCanvas, context: OffscreenCanvasRenderingContext2D): GreyLevels {
  const { width: widthPx, height: heightPx } = canvas;
  const { data } = context.getImageData(0, 0, widthPx, heightPx);
  const levels = new Uint8Array(widthPx * heightPx);
  for (let i = 0, k = 0; i < levels.length; i++, k += 4)
    levels[i] = (77 * data[k]! + 150 * data[k + 1]! + 29 * data[k + 2]!) >> 8;
  return { widthPx, heightPx, levels };
}

/**
 * Decodes a picture once and makes of it all that a card shows; null when the browser cannot decode it. `told` is the size that
 * its file tells: a large one is decoded at a smaller size.
 */
export async function viewPicture(
  blob: Blob,
  told: { readonly widthPx: number; readonly heightPx: number } | null,
): Promise<PictureView | null> {
  const large = told !== null && told.widthPx * told.heightPx > LARGE_PX;
  try {
    const bitmap = await createImageBitmap(blob, {
      imageOrientation: 'from-image',
      ...(large ? { resizeWidth: JUDGED_PX } : {}),
    });
    const { width, height } = bitmap;
    const judged = reduce(bitmap, JUDGED_PX);
    bitmap.close();
    const grey = readGrey(judged.canvas, judged.context);
    const small = reduce(judged.canvas, SMALL_PX).canvas;
    const copy = await small.convertToBlob({ type: 'image/jpeg', quality: 0.8 });
    const size = large ? told : { widthPx: width, heightPx: height };
    return {
      ...size,
      url: URL.createObjectURL(copy),
      blurred: measureBlur(grey) >= BLURRED_PX,
      print: makePrint(grey),
    };
  } catch {
    return null;
  }
}
