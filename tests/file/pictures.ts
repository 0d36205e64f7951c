// Small pictures made byte by byte, with whatever a phone may have put beside the picture.
import { writeChunk } from '../../src/file/png.ts';
import type { TiffField } from '../../src/file/tiff.ts';

const ascii = (text: string) => Uint8Array.from([...text].map((letter) => letter.charCodeAt(0)));
export const joinAll = (...parts: readonly (Uint8Array | readonly number[])[]) =>
  Uint8Array.from(parts.flatMap((part) => [...part]));

/** What stands for a customer's home in the tests: nothing of it may be left anywhere. */
export const secret = 'N 51.4934 W 0.0098 SECRET';

/** One TIFF field of SHORTs, RATIONALs or text in a byte order. */
export function makeField(
  tag: number,
  value: string | number | readonly [number, number][],
  little: boolean,
): TiffField {
  if (typeof value === 'string')
    return { tag, type: 2, count: value.length + 1, value: joinAll(ascii(value), [0]) };
  if (typeof value === 'number') {
    const bytes = new Uint8Array(2);
    new DataView(bytes.buffer).setUint16(0, value, little);
    return { tag, type: 3, count: 1, value: bytes };
  }
  const bytes = new Uint8Array(8 * value.length);
  value.forEach(([above, below], k) => {
    new DataView(bytes.buffer).setUint32(8 * k, above, little);
    new DataView(bytes.buffer).setUint32(8 * k + 4, below, little);
  });
  return { tag, type: 5, count: value.length, value: bytes };
}

/** A TIFF block as phones write it: main directory, EXIF and GPS directories, and a thumbnail directory after the first. */
export function makeTiff(little: boolean, orientation = 6): Uint8Array {
  const bytes = new Uint8Array(2000);
  const view = new DataView(bytes.buffer);
  bytes.fill(little ? 0x49 : 0x4d, 0, 2);
  view.setUint16(2, 42, little);
  view.setUint32(4, 8, little);
  let free = 600;
  const putDirectory = (at: number, fields: readonly TiffField[], next = 0) => {
    view.setUint16(at, fields.length, little);
    fields.forEach(({ tag, type, count, value }, k) => {
      const entry = at + 2 + 12 * k;
      view.setUint16(entry, tag, little);
      view.setUint16(entry + 2, type, little);
      view.setUint32(entry + 4, count, little);
      if (value.length <= 4) return bytes.set(value, entry + 8);
      view.setUint32(entry + 8, free, little);
      bytes.set(value, free);
      free += value.length + (value.length % 2);
    });
    view.setUint32(at + 2 + 12 * fields.length, next, little);
  };
  const pointer = (tag: number, to: number): TiffField => {
    const value = new Uint8Array(4);
    new DataView(value.buffer).setUint32(0, to, little);
    return { tag, type: 4, count: 1, value };
  };
  const main = [
    makeField(0x010e, secret, little), // description
    makeField(0x010f, 'Maker', little),
    makeField(0x0110, 'Model', little),
    makeField(0x0112, orientation, little),
    makeField(0x013b, secret, little), // artist
    pointer(0x8769, 200),
    pointer(0x8825, 400),
  ];
  putDirectory(8, main, 500);
  putDirectory(200, [
    makeField(0x829a, [[1, 50]], little), // exposure
    makeField(0x9003, '2026:03:14 09:30:00', little),
    makeField(0x920a, [[425, 100]], little), // focal length
    makeField(0x927c, secret, little), // maker note
    makeField(0x9286, secret, little), // comment
    makeField(0xa404, [[15, 10]], little),
    makeField(0xa405, 26, little),
    makeField(0xa430, secret, little), // owner
  ]);
  putDirectory(400, [
    makeField(0x0001, 'N', little),
    makeField(0x0002, [[51, 1], [29, 1], [3600, 100]], little), // prettier-ignore
    makeField(0x0003, 'W', little),
    makeField(0x0004, [[0, 1], [0, 1], [3528, 100]], little), // prettier-ignore
    makeField(0x001b, secret, little),
  ]);
  putDirectory(500, [makeField(0x0131, secret, little)]);
  return bytes.slice(0, free);
}

/** A marker segment with its length. */
export const makeSegment = (marker: number, content: Uint8Array) =>
  joinAll([0xff, marker, (content.length + 2) >> 8, (content.length + 2) & 0xff], content);

/** The coded part of a JPEG of 4000 x 3000 px: tables, frame, two scans with stuffed bytes and restarts. Not decodable. */
export const codedJpeg = joinAll(
  makeSegment(0xdb, new Uint8Array(65).fill(7)),
  makeSegment(0xc2, Uint8Array.of(8, 3000 >> 8, 3000 & 255, 4000 >> 8, 4000 & 255, 1, 1, 0x11, 0)),
  makeSegment(0xda, Uint8Array.of(1, 1, 0, 0, 63, 0)),
  [1, 2, 0xff, 0x00, 3, 0xff, 0xd0, 4, 0xff, 0xff, 0x00, 5],
  makeSegment(0xda, Uint8Array.of(1, 1, 0, 0, 63, 0)),
  [9, 8, 7, 0xff, 0x00],
);

const exif = (tiff: Uint8Array) => makeSegment(0xe1, joinAll(ascii('Exif\0\0'), tiff));
const xmp = makeSegment(0xe1, ascii(`http://ns.adobe.com/xap/1.0/\0<x exif:GPSLatitude="${secret}"/>`));

/** A JPEG with EXIF, GPS, XMP, IPTC, a comment, a multi-picture block, and a second picture after its end. */
export function makeJpeg(little = true, orientation = 6): Uint8Array {
  return joinAll(
    [0xff, 0xd8],
    makeSegment(0xe0, ascii('JFIF\0\x01\x01\0\0\x01\0\x01\0\0')),
    exif(makeTiff(little, orientation)),
    xmp,
    makeSegment(0xe2, ascii('ICC_PROFILE\0\x01\x01profile')),
    makeSegment(0xe2, ascii(`MPF\0${secret}`)),
    makeSegment(0xed, ascii(`Photoshop 3.0\0${secret}`)),
    makeSegment(0xee, ascii('Adobe\0\x64\0\0\0\0\x01')),
    makeSegment(0xfe, ascii(secret)),
    codedJpeg,
    [0xff, 0xd9],
    [0xff, 0xd8],
    exif(makeTiff(little)),
    ascii(secret),
    [0xff, 0xd9],
  );
}

/** A PNG of 640 x 480 px with EXIF and texts; its picture data are no real ones. */
export function makePng(): Uint8Array {
  const header = new Uint8Array(13);
  new DataView(header.buffer).setUint32(0, 640);
  new DataView(header.buffer).setUint32(4, 480);
  return joinAll(
    [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a],
    writeChunk('IHDR', header),
    writeChunk('eXIf', makeTiff(false)),
    writeChunk('tEXt', ascii(`Comment\0${secret}`)),
    writeChunk('iTXt', ascii(`XML:com.adobe.xmp\0\0\0\0\0${secret}`)),
    writeChunk('IDAT', Uint8Array.of(1, 2, 3, 4)),
    writeChunk('IEND', new Uint8Array(0)),
  );
}
