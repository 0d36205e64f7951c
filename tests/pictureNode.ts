import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import decodeJpeg, { init as initJpeg } from '@jsquash/jpeg/decode.js';
import decodePng, { init as initPng } from '@jsquash/png/decode.js';
import type { Picture } from '../src/vision/picture.ts';
import { refuse } from '../src/core/refusal.ts';

// the PNG codec builds its result with the browser's ImageData
class NodeImageData {
  constructor(
    readonly data: Uint8ClampedArray,
    readonly width: number,
    readonly height: number,
  ) {}
}
(globalThis as { ImageData?: unknown }).ImageData ??= NodeImageData;

const wasm = (file: string) =>
  WebAssembly.compile(readFileSync(createRequire(import.meta.url).resolve(file)));
let ready: Promise<unknown> | undefined;
const start = () =>
  (ready ??= Promise.all([
    wasm('@jsquash/jpeg/codec/dec/mozjpeg_dec.wasm').then((m) => initJpeg(m)),
    wasm('@jsquash/png/codec/pkg/squoosh_png_bg.wasm').then((m) => initPng(m)),
  ]));

/**
 * Decodes a JPEG or PNG in Node, upright (EXIF orientation applied once).
 * @throws not_a_picture when the bytes are no readable JPEG or PNG
 */
export async function decodePicture(bytes: Uint8Array, file: string): Promise<Picture> {
  await start();
  const isPng = bytes[0] === 0x89 && bytes[1] === 0x50;
  const isJpeg = bytes[0] === 0xff && bytes[1] === 0xd8;
  if (!isPng && !isJpeg) refuse({ code: 'not_a_picture', file });
  const buffer = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;
  try {
    const image = isPng ? await decodePng(buffer) : await decodeJpeg(buffer, { preserveOrientation: true });
    return { widthPx: image.width, heightPx: image.height, rgba: image.data };
  } catch {
    return refuse({ code: 'not_a_picture', file });
  }
}
