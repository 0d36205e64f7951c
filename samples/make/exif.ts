/** How a stored picture is to be turned: EXIF tag 0x0112. */
export type Orientation = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8;

/** What a phone notes in its pictures. */
export interface Exif {
  readonly orientation: Orientation;
  /** Focal length as on 35 mm film, whole mm; null = no such tag. */
  readonly focal35Mm: number | null;
  readonly focalMm: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** "YYYY:MM:DD hh:mm:ss". */
  readonly takenAt: string;
}

type Value =
  | { ascii: string }
  | { short: number }
  | { long: number }
  | { rational: [number, number] }
  | { bytes: number[] };
type Entry = readonly [tag: number, value: Value];

/**
 * The APP1 segment of a JPEG file, marker and length included: TIFF header, IFD 0 and the Exif IFD, little-endian.
 * Source: CIPA DC-008 (Exif 2.3), tag numbers and types (from memory).
 */
export function writeExif(exif: Exif): Uint8Array {
  const camera: Entry[] = [
    [0x829a, { rational: [1, 60] }],
    [0x829d, { rational: [18, 10] }],
    [0x8827, { short: 125 }],
    [0x9000, { bytes: [0x30, 0x32, 0x33, 0x30] }],
    [0x9003, { ascii: exif.takenAt }],
    [0x920a, { rational: [Math.round(exif.focalMm * 1000), 1000] }],
    [0xa001, { short: 1 }],
    [0xa002, { long: exif.widthPx }],
    [0xa003, { long: exif.heightPx }],
  ];
  if (exif.focal35Mm !== null) camera.push([0xa405, { short: exif.focal35Mm }]);
  const picture = (cameraAt: number): Entry[] => [
    [0x010f, { ascii: 'phone' }],
    [0x0110, { ascii: 'site phone' }],
    [0x0112, { short: exif.orientation }],
    [0x011a, { rational: [72, 1] }],
    [0x011b, { rational: [72, 1] }],
    [0x0128, { short: 2 }],
    [0x8769, { long: cameraAt }],
  ];
  const first = layOutDirectory(picture(0), 8);
  const tiff = [
    ...[0x49, 0x49, 42, 0, 8, 0, 0, 0],
    ...layOutDirectory(picture(8 + first.length), 8),
    ...layOutDirectory(camera, 8 + first.length),
  ];
  const body = [...ascii('Exif\0\0'), ...tiff];
  return Uint8Array.from([0xff, 0xe1, (body.length + 2) >> 8, (body.length + 2) & 255, ...body]);
}

/** Bytes of one directory that starts `at` bytes into the TIFF block, its long values behind it. */
function layOutDirectory(entries: readonly Entry[], at: number): number[] {
  const head = little(entries.length, 2);
  const tail: number[] = [];
  const tailAt = at + 2 + 12 * entries.length + 4;
  for (const [tag, value] of entries) {
    const { type, count, bytes } = encodeValue(value);
    head.push(...little(tag, 2), ...little(type, 2), ...little(count, 4));
    if (bytes.length <= 4) head.push(...bytes, ...Array<number>(4 - bytes.length).fill(0));
    else {
      head.push(...little(tailAt + tail.length, 4));
      tail.push(...bytes, ...Array<number>(bytes.length % 2).fill(0));
    }
  }
  return [...head, 0, 0, 0, 0, ...tail];
}

function encodeValue(value: Value): { type: number; count: number; bytes: number[] } {
  if ('ascii' in value) {
    const bytes = ascii(`${value.ascii}\0`);
    return { type: 2, count: bytes.length, bytes };
  }
  if ('short' in value) return { type: 3, count: 1, bytes: little(value.short, 2) };
  if ('long' in value) return { type: 4, count: 1, bytes: little(value.long, 4) };
  if ('bytes' in value) return { type: 7, count: value.bytes.length, bytes: value.bytes };
  return { type: 5, count: 1, bytes: value.rational.flatMap((part) => little(part, 4)) };
}

function ascii(text: string): number[] {
  return Array.from(text, (letter) => letter.charCodeAt(0));
}

function little(value: number, count: number): number[] {
  return Array.from({ length: count }, (_, i) => (value >>> (8 * i)) & 255);
}
