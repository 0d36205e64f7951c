import { afterEach, expect, test, vi } from 'vitest';
import { Refused } from '../../src/core/refusal.ts';
import { decodePicture } from '../../workers/decode.ts';

/** The largest canvas of some phones, px (Safari on phones; from memory). */
const CANVAS_LIMIT_PX = 16_777_216;

interface Drawn {
  canvases: number[];
  options: unknown[];
  bitmaps: { width: number; height: number; closed: boolean }[];
  settings: unknown[];
}

/** A browser of which only what decoding uses is there; a canvas over `limitPx` is silently empty. */
function pretendBrowser(width: number, height: number, limitPx: number): Drawn {
  const drawn: Drawn = { canvases: [], options: [], bitmaps: [], settings: [] };
  vi.stubGlobal('createImageBitmap', (_: Blob, options: { resizeWidth?: number }) => {
    drawn.options.push(options);
    const size = options.resizeWidth ?? width;
    const bitmap = {
      width: size,
      height: Math.round((height * size) / width),
      closed: false,
      close: () => (bitmap.closed = true),
    };
    drawn.bitmaps.push(bitmap);
    return Promise.resolve(bitmap);
  });
  vi.stubGlobal(
    'OffscreenCanvas',
    class {
      constructor(
        readonly width: number,
        readonly height: number,
      ) {
        drawn.canvases.push(width * height);
      }
      getContext(_: string, settings: unknown) {
        drawn.settings.push(settings);
        const empty = this.width * this.height > limitPx;
        let top = 0;
        return {
          fillStyle: '',
          fillRect: () => undefined,
          drawImage: (_: unknown, __: number, dy: number) => (top = -dy),
          getImageData: (_: number, __: number, w: number, h: number) => {
            const data = new Uint8ClampedArray(4 * w * h);
            // every pixel of a row says which row of the picture it is
            if (!empty) for (let y = 0; y < h; y++) data.fill((top + y) % 251, 4 * w * y, 4 * w * (y + 1));
            if (!empty) for (let k = 3; k < data.length; k += 4) data[k] = 255;
            return { data };
          },
        };
      }
    },
  );
  return drawn;
}

afterEach(() => vi.unstubAllGlobals());

const refusalOf = (work: Promise<unknown>) =>
  work.then(
    () => null,
    (thrown: unknown) => (thrown instanceof Refused ? thrown.refusal : thrown),
  );

test('One canvas is at most 16,777,216 px: 24 and 48 megapixels are read in strips, each row in its place', async () => {
  for (const [width, height] of [
    [6000, 4000],
    [8000, 6000],
  ] as const) // prettier-ignore
  {
    const drawn = pretendBrowser(width, height, CANVAS_LIMIT_PX);
    const { widthPx, heightPx, rgba } = await decodePicture(new Blob([]), 'f1.jpg');
    expect([widthPx, heightPx]).toEqual([width, height]);
    for (const row of [0, 511, 512, 513, height - 1]) expect(rgba[4 * width * row]).toBe(row % 251);
    expect(Math.max(...drawn.canvases)).toBeLessThanOrEqual(CANVAS_LIMIT_PX);
    expect(drawn.bitmaps.map(({ closed }) => closed)).toEqual([true]);
  }
});

test('One canvas that is silently empty is noticed, and the bitmap let go', async () => {
  const drawn = pretendBrowser(4000, 3000, 1000);
  expect(await refusalOf(decodePicture(new Blob([]), 'f1.jpg'))).toEqual({
    code: 'picture_too_large',
    widthPx: 4000,
    heightPx: 3000,
  });
  expect(drawn.bitmaps[0]!.closed).toBe(true);
});

test('Allocation failure: bytes are reckoned before they are asked for', async () => {
  const drawn = pretendBrowser(40_000, 30_000, Infinity);
  expect(await refusalOf(decodePicture(new Blob([]), 'f1.jpg'))).toMatchObject({ code: 'picture_too_large' });
  expect(drawn.canvases).toEqual([]);
  const reduced = await decodePicture(new Blob([]), 'f1.jpg', 1000);
  expect([reduced.widthPx, reduced.heightPx]).toEqual([1000, 750]);
});

test('EXIF orientation: the browser turns the picture, once, and nothing else is asked of that call', async () => {
  const drawn = pretendBrowser(400, 300, Infinity);
  await decodePicture(new Blob([]), 'f1.jpg');
  expect(drawn.options).toEqual([{ imageOrientation: 'from-image' }]);
});

test('Wide-gamut photos: the pixels are asked for in sRGB', async () => {
  const drawn = pretendBrowser(400, 300, Infinity);
  await decodePicture(new Blob([]), 'f1.jpg');
  expect(drawn.settings).toMatchObject([{ colorSpace: 'srgb' }]);
});

test('what the browser cannot decode is no picture', async () => {
  vi.stubGlobal('createImageBitmap', () => Promise.reject(new Error('no')));
  expect(await refusalOf(decodePicture(new Blob([]), 'f1.jpg'))).toEqual({
    code: 'not_a_picture',
    file: 'f1.jpg',
  });
});
