/** One photograph opened for looking: the pixels nearest to the original, and a small copy for the overview. */
export interface OpenPicture {
  /** The file, for making other sizes of it. */
  readonly blob: Blob;
  readonly full: ImageBitmap;
  readonly small: ImageBitmap;
  /** Size of the upright photograph, px; `full` may be smaller. */
  readonly width: number;
  readonly height: number;
}

/** Long side of the overview copy, px. */
const SMALL_PX = 1000;
/** Photographs beyond this are opened reduced: the decoded picture would not fit beside the page on a phone. */
const FULL_LIMIT_PX = 50e6;
const REDUCED_LONG_PX = 6000;

/**
 * Decodes a photograph upright. `known`: its size as noted in the survey, which image points refer to. Null when this
 * browser cannot read it.
 */
export async function openPicture(
  blob: Blob,
  known: { readonly width: number; readonly height: number } | null,
): Promise<OpenPicture | null> {
  try {
    const reduce = known !== null && known.width * known.height > FULL_LIMIT_PX;
    const full = await decode(blob, reduce ? limitLongSide(known, REDUCED_LONG_PX) : {});
    // read anew rather than reduced from `full`, which would hold the page up
    const small = await decode(blob, limitLongSide(full, SMALL_PX));
    return { blob, full, small, width: known?.width ?? full.width, height: known?.height ?? full.height };
  } catch {
    return null;
  }
}

/** Gives the memory of a photograph back. */
export function closePicture(picture: OpenPicture): void {
  picture.full.close();
  picture.small.close();
}

function decode(blob: Blob, size: ImageBitmapOptions): Promise<ImageBitmap> {
  return createImageBitmap(blob, { imageOrientation: 'from-image', resizeQuality: 'medium', ...size });
}

/** Both sides, since browsers differ in which side of a turned picture they mean by one of them. */
function limitLongSide({ width, height }: { width: number; height: number }, longPx: number) {
  const share = longPx / Math.max(width, height);
  if (share >= 1) return {};
  return { resizeWidth: Math.round(width * share), resizeHeight: Math.round(height * share) };
}
