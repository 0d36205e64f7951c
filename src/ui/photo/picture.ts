/** One photograph opened for looking: the pixels nearest to the original, and a small copy for the overview. */
export interface OpenPicture {
  readonly full: ImageBitmap;
  readonly small: ImageBitmap;
  /** Size of the upright photograph, px; `full` may be smaller. */
  readonly width: number;
  readonly height: number;
}

/** Long side of the overview copy, px. */
const SMALL_PX = 2000;
/** Photographs beyond this are opened reduced: the decoded picture would not fit beside the page on a phone. */
const FULL_LIMIT_PX = 50e6;
const REDUCED_LONG_PX = 6000;

/**
 * Decodes a photograph upright, once. `known`: its size as noted in the survey, which image points refer to. Null when this
 * browser cannot read it.
 */
export async function openPicture(
  blob: Blob,
  known: { readonly width: number; readonly height: number } | null,
): Promise<OpenPicture | null> {
  try {
    const reduce = known !== null && known.width * known.height > FULL_LIMIT_PX;
    const full = await createImageBitmap(blob, {
      imageOrientation: 'from-image',
      ...(reduce ? limitLongSide(known, REDUCED_LONG_PX) : {}),
    });
    const small = await createImageBitmap(full, {
      ...limitLongSide(full, SMALL_PX),
      resizeQuality: 'medium',
    });
    return { full, small, width: known?.width ?? full.width, height: known?.height ?? full.height };
  } catch {
    return null;
  }
}

/** Gives the memory of a photograph back. */
export function closePicture(picture: OpenPicture): void {
  picture.full.close();
  picture.small.close();
}

function limitLongSide(size: { width: number; height: number }, longPx: number) {
  if (Math.max(size.width, size.height) <= longPx) return {};
  return size.width >= size.height ? { resizeWidth: longPx } : { resizeHeight: longPx };
}
