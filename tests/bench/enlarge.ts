/** Noise put on an enlarged picture (levels, uniform to either side): a larger sensor's own, which enlarging does not bring. */
const NOISE_LEVELS = 4;
const STRIP_ROWS = 500;

/** A photograph at another size, with noise of its own (fixed seed), as a JPEG of quality 92. */
export async function enlargePicture(asked: {
  blob: Blob;
  widthPx: number;
  heightPx: number;
}): Promise<Blob> {
  const { blob, widthPx, heightPx } = asked;
  const bitmap = await createImageBitmap(blob);
  const canvas = new OffscreenCanvas(widthPx, heightPx);
  const context = canvas.getContext('2d', { willReadFrequently: true })!;
  context.imageSmoothingQuality = 'high';
  context.drawImage(bitmap, 0, 0, widthPx, heightPx);
  bitmap.close();
  let seed = 20240514;
  for (let top = 0; top < heightPx; top += STRIP_ROWS) {
    const rows = Math.min(STRIP_ROWS, heightPx - top);
    const strip = context.getImageData(0, top, widthPx, rows);
    const { data } = strip;
    for (let k = 0; k < data.length; k++) {
      if ((k & 3) === 3) continue;
      seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
      data[k] = data[k]! + Math.round((seed / 2 ** 31 - 1) * NOISE_LEVELS);
    }
    context.putImageData(strip, 0, top);
  }
  return canvas.convertToBlob({ type: 'image/jpeg', quality: 0.92 });
}
