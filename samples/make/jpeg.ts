import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import encode, { init } from '@jsquash/jpeg/encode.js';
import type { Picture } from '../../src/vision/picture.ts';
import { writeExif, type Exif, type Orientation } from './exif.ts';

let ready: Promise<void> | undefined;

/** The codec takes a ready module in place of its options. */
const start = () =>
  (ready ??= WebAssembly.compile(
    readFileSync(createRequire(import.meta.url).resolve('@jsquash/jpeg/codec/enc/mozjpeg_enc.wasm')),
  ).then((module) => init(module as never)));

/**
 * JPEG file of an upright picture, colour at half size (4:2:0), its pixels stored as the EXIF orientation says. The same
 * picture gives the same bytes.
 */
export async function encodePhotograph(
  picture: Picture,
  quality: number,
  exif: Omit<Exif, 'widthPx' | 'heightPx'>,
): Promise<Uint8Array> {
  await start();
  const stored = storeTurned(picture, exif.orientation);
  const { widthPx: width, heightPx: height } = stored;
  const image = { data: new Uint8ClampedArray(stored.rgba), width, height, colorSpace: 'srgb' as const };
  const file = new Uint8Array(
    await encode(image, {
      quality,
      auto_subsample: false,
      chroma_subsample: 2,
      progressive: false,
      trellis_multipass: false,
    }),
  );
  const app1 = writeExif({ ...exif, widthPx: width, heightPx: height });
  // Exif wants its segment first and no other APP0: the codec's JFIF segment is left out
  const rest = file[2] === 0xff && file[3] === 0xe0 ? 4 + 256 * file[4]! + file[5]! : 2;
  const whole = new Uint8Array(2 + app1.length + file.length - rest);
  whole.set(file.subarray(0, 2));
  whole.set(app1, 2);
  whole.set(file.subarray(rest), 2 + app1.length);
  return whole;
}

/** The stored form of an upright picture: what its first row and column stand for is CIPA DC-008's tag 0x0112. */
export function storeTurned(picture: Picture, orientation: Orientation): Picture {
  if (orientation === 1) return picture;
  const { widthPx, heightPx } = picture;
  const sideways = orientation >= 5;
  const width = sideways ? heightPx : widthPx;
  const height = sideways ? widthPx : heightPx;
  const fromRight = [2, 3, 6, 7].includes(orientation);
  const fromBelow = [3, 4, 7, 8].includes(orientation);
  const rgba = new Uint8ClampedArray(4 * width * height);
  for (let j = 0; j < height; j++)
    for (let i = 0; i < width; i++) {
      const across = sideways ? j : i;
      const down = sideways ? i : j;
      const u = fromRight ? widthPx - 1 - across : across;
      const v = fromBelow ? heightPx - 1 - down : down;
      const source = 4 * (v * widthPx + u);
      const target = 4 * (j * width + i);
      for (let c = 0; c < 4; c++) rgba[target + c] = picture.rgba[source + c]!;
    }
  return { widthPx: width, heightPx: height, rgba };
}
