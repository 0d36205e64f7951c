import { deflateSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import encode from '@jsquash/jpeg/encode.js';
import { Refused } from '../src/core/refusal.ts';
import { writeChunk } from '../src/file/png.ts';
import { decodePicture } from './pictureNode.ts';
import { joinAll } from './file/pictures.ts';
import { writePhotograph } from './truth/photographFile.ts';

const [WIDTH, HEIGHT] = [40, 36];

/** A PNG of one kind (PNG, third edition, 11.2.1): its colour type, bits and the bytes of each pixel. */
function makePng(type: number, bits: number, pixel: (u: number, v: number) => number[], palette?: number[]) {
  const header = new Uint8Array(13);
  const view = new DataView(header.buffer);
  view.setUint32(0, WIDTH);
  view.setUint32(4, HEIGHT);
  header[8] = bits;
  header[9] = type;
  const rows = Array.from({ length: HEIGHT }, (_, v) => [
    0,
    ...Array.from({ length: WIDTH }, (_, u) => pixel(u, v)).flat(),
  ]).flat();
  return joinAll(
    [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a],
    writeChunk('IHDR', header),
    palette ? writeChunk('PLTE', Uint8Array.from(palette)) : [],
    writeChunk('IDAT', deflateSync(Uint8Array.from(rows))),
    writeChunk('IEND', new Uint8Array(0)),
  );
}

const pixelAt = async (bytes: Uint8Array, u: number, v: number) => {
  const { widthPx, heightPx, rgba } = await decodePicture(bytes, 'made');
  expect([widthPx, heightPx]).toEqual([WIDTH, HEIGHT]);
  return [...rgba.subarray(4 * (v * WIDTH + u), 4 * (v * WIDTH + u) + 4)];
};

const refusalOf = (bytes: Uint8Array, file: string) =>
  decodePicture(bytes, file).then(
    () => null,
    (thrown: unknown) => (thrown instanceof Refused ? thrown.refusal : thrown),
  );

const picture = {
  widthPx: WIDTH,
  heightPx: HEIGHT,
  rgba: Uint8ClampedArray.from({ length: 4 * WIDTH * HEIGHT }, (_, k) =>
    k % 4 === 3 ? 255 : [200, 100, 50][k % 4]!,
  ),
};

describe('every PNG is read', () => {
  test.each<[string, Uint8Array, number[]]>([
    ['grey', makePng(0, 8, (u) => [u]), [7, 7, 7, 255]],
    ['grey, 16 bits', makePng(0, 16, (u) => [u, 200]), [7, 7, 7, 255]],
    ['grey with alpha, over white', makePng(4, 8, () => [55, 51]), [215, 215, 215, 255]],
    ['colours', makePng(2, 8, (u, v) => [u, v, 9]), [7, 5, 9, 255]],
    ['colours, 16 bits', makePng(2, 16, (u, v) => [u, 0, v, 0, 9, 0]), [7, 5, 9, 255]],
    ['colours with alpha, over white', makePng(6, 8, () => [55, 155, 255, 102]), [175, 215, 255, 255]],
    ['palette', makePng(3, 8, (u) => [u % 3], [1, 2, 3, 40, 50, 60, 7, 8, 9]), [40, 50, 60, 255]],
  ])('%s', async (_, png, expected) => {
    const seen = await pixelAt(png, 7, 5);
    seen.forEach((value, c) => expect(Math.abs(value - expected[c]!)).toBeLessThanOrEqual(1));
  });
});

describe('every JPEG is read, or refused by name', () => {
  const image = { data: picture.rgba, width: WIDTH, height: HEIGHT, colorSpace: 'srgb' as const };

  test.each([
    ['progressive', { progressive: true }, [200, 100, 50]],
    [
      'baseline, colour at full size',
      { progressive: false, auto_subsample: false, chroma_subsample: 1 },
      [200, 100, 50],
    ],
    // ITU-R BT.601 luma
    ['grey', { color_space: 1 }, [124, 124, 124]],
  ])('%s', async (_, options, expected) => {
    await writePhotograph(picture);
    const seen = await pixelAt(new Uint8Array(await encode(image, options)), 20, 20);
    expected.forEach((value, c) => expect(Math.abs(seen[c]! - value)).toBeLessThan(6));
  });

  test("printer's colours", async () => {
    const jpeg = (await writePhotograph(picture)).slice();
    // the number of colours in the frame header (ITU-T T.81, B.2.2)
    const frame = jpeg.findIndex((byte, k) => byte === 0xff && jpeg[k + 1] === 0xc0);
    expect(jpeg[frame + 9]).toBe(3);
    jpeg[frame + 9] = 4;
    expect(await refusalOf(jpeg, 'a.jpg')).toEqual({
      code: 'picture_kind_unknown',
      file: 'a.jpg',
      kind: 'cmyk',
    });
  });

  test('cut short', async () => {
    const jpeg = await writePhotograph(picture);
    for (const share of [0.3, 0.7, 0.95])
      expect(await refusalOf(jpeg.subarray(0, share * jpeg.length), 'a.jpg')).toEqual({
        code: 'not_a_picture',
        file: 'a.jpg',
      });
  });
});

test('HEIC where the browser cannot decode it: Node neither, and says what it saw', async () => {
  const bytes = (text: string) => Uint8Array.from(text, (letter) => letter.charCodeAt(0));
  expect(await refusalOf(bytes('\0\0\0\x18ftypheic\0\0\0\0'), 'a.jpg')).toMatchObject({ kind: 'heic' });
  expect(await refusalOf(bytes('RIFF\0\0\0\0WEBPVP8 '), 'a.jpg')).toMatchObject({ kind: 'webp' });
  expect(await refusalOf(bytes('hello'), 'a.jpg')).toEqual({ code: 'not_a_picture', file: 'a.jpg' });
});
