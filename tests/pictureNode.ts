import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import decodeJpeg, { init as initJpeg } from '@jsquash/jpeg/decode.js';
import decodePng, { init as initPng } from '@jsquash/png/decode.js';
import { refusalOfFile } from '../src/app/pictureKind.ts';
import { refuse } from '../src/core/refusal.ts';
import { tellPictureKind } from '../src/file/exif.ts';
import { countColours } from '../src/file/jpeg.ts';
import type { Picture } from '../src/vision/picture.ts';
import { toSrgb } from './colourProfile.ts';

// the PNG codec builds its result with the browser's ImageData
class NodeImageData {
  constructor(
    readonly data: Uint8ClampedArray,
    readonly width: number,
    readonly height: number,
  ) {}
}
(globalThis as { ImageData?: unknown }).ImageData ??= NodeImageData;

/** What the JPEG codec complained of since it was last asked to decode. */
let complaints: string[] = [];
const printErr = (complaint: string) => complaints.push(complaint);

/** The codec takes a ready module and options, of which its types know one only. */
const startJpeg = initJpeg as (module: WebAssembly.Module, options: object) => Promise<void>;

const wasm = (file: string) =>
  WebAssembly.compile(readFileSync(createRequire(import.meta.url).resolve(file)));
let ready: Promise<unknown> | undefined;
const start = () =>
  (ready ??= Promise.all([
    wasm('@jsquash/jpeg/codec/dec/mozjpeg_dec.wasm').then((m) => startJpeg(m, { printErr })),
    wasm('@jsquash/png/codec/pkg/squoosh_png_bg.wasm').then((m) => initPng(m)),
  ]));

/**
 * Decodes a JPEG or PNG in Node as a browser does: upright (EXIF orientation applied once), in sRGB, over white.
 * @throws not_a_picture when the bytes are no readable JPEG or PNG, or end too soon
 * @throws picture_kind_unknown when they are another kind of picture, or a JPEG in printer's colours
 */
export async function decodePicture(bytes: Uint8Array, file: string): Promise<Picture> {
  const refusal = refusalOfFile(bytes, file);
  if (refusal) refuse(refusal);
  if (countColours(bytes) === 4) refuse({ code: 'picture_kind_unknown', file, kind: 'cmyk' });
  await start();
  const isPng = tellPictureKind(bytes) === 'png';
  const buffer = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;
  complaints = [];
  const image = await (isPng ? decodePng(buffer) : decodeJpeg(buffer, { preserveOrientation: true })).catch(
    () => refuse({ code: 'not_a_picture', file }),
  );
  if (complaints.some((each) => each.startsWith('Premature end'))) refuse({ code: 'not_a_picture', file });
  const picture = { widthPx: image.width, heightPx: image.height, rgba: image.data };
  if (isPng) layOverWhite(picture);
  toSrgb(picture, bytes);
  return picture;
}

function layOverWhite({ rgba }: Picture): void {
  for (let k = 0; k < rgba.length; k += 4) {
    const alpha = rgba[k + 3]!;
    if (alpha === 255) continue;
    for (let c = k; c < k + 3; c++) rgba[c] = Math.round(255 + ((rgba[c]! - 255) * alpha) / 255);
    rgba[k + 3] = 255;
  }
}
