import { refuse } from '../core/refusal.ts';
import { listSegments, readFrameSize, startsWith, type Segment } from './jpeg.ts';
import { listChunks, writeChunk } from './png.ts';
import { readRational, readTiff, readWhole, writeTiff, type TiffField, type TiffFields } from './tiff.ts';

export type PictureKind = 'jpeg' | 'png' | 'heic' | 'avif' | 'webp' | 'gif' | 'tiff' | 'bmp' | 'unknown';

/** What a picture file says about itself. Size as stored, before the turn that `orientation` (1 to 8) asks for. */
export interface PictureFacts {
  readonly kind: PictureKind;
  readonly widthPx: number | null;
  readonly heightPx: number | null;
  readonly orientation: number;
  readonly focal35Mm: number | null;
  /** Ratio of a digital zoom, null when it is not told or was not used. */
  readonly digitalZoom: number | null;
  /** The lens's own focal length, mm. */
  readonly focalMm: number | null;
  /** What the maker calls the phone. */
  readonly camera: string | null;
  /** When it was taken by the phone's clock, "YYYY:MM:DD hh:mm:ss". */
  readonly takenAt: string | null;
}

// EXIF 2.32, 4.6.4 and 4.6.5
const tags = {
  model: 0x0110,
  orientation: 0x0112,
  takenAt: 0x9003,
  focal: 0x920a,
  digitalZoom: 0xa404,
  focal35: 0xa405,
};

/** The fields that stay with a picture: how to turn it, what it was taken with and how. Everything else can name a place
 *  or a person: position, maker notes, thumbnails, owner and serial numbers, comments. */
const keptTags: ReadonlySet<number> = new Set([
  ...[0x010f, 0x0110, 0x0112, 0x011a, 0x011b, 0x0128, 0x0132, 0x0213], // make, model, orientation, density, date
  ...[0x829a, 0x829d, 0x8827, 0x9000, 0x9003, 0x9004, 0x9101, 0x9201, 0x9202, 0x9204, 0x9209, 0x920a], // exposure, focal
  ...[0xa000, 0xa001, 0xa002, 0xa003, 0xa217, 0xa402, 0xa403, 0xa404, 0xa405, 0xa406, 0xa432, 0xa433, 0xa434], // size, lens
]);

const exifMark = 'Exif\0\0';

/**
 * The kind of a picture file by its first bytes, whatever its name says.
 * @example tellPictureKind(Uint8Array.of(255, 216, 255, 224)) // 'jpeg'
 */
export function tellPictureKind(bytes: Uint8Array): PictureKind {
  const has = (at: number, text: string) => startsWith(bytes, at, text);
  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return 'jpeg';
  if (listChunks(bytes.subarray(0, 8))) return 'png';
  if (has(4, 'ftyp')) {
    // ISO/IEC 23008-12, annex B; the brand names are from memory
    if (has(8, 'avif') || has(8, 'avis')) return 'avif';
    return ['heic', 'heix', 'hevc', 'heim', 'heis', 'mif1', 'msf1'].some((brand) => has(8, brand))
      ? 'heic'
      : 'unknown';
  }
  if (has(0, 'RIFF') && has(8, 'WEBP')) return 'webp';
  if (has(0, 'GIF8')) return 'gif';
  if (has(0, 'II*\0') || has(0, 'MM\0*')) return 'tiff';
  return has(0, 'BM') ? 'bmp' : 'unknown';
}

const isExif = (bytes: Uint8Array, { marker, payload }: Segment) =>
  marker === 0xe1 && startsWith(bytes, payload, exifMark);

/** The TIFF block with the picture's EXIF fields, null when there is none. */
function readExif(bytes: Uint8Array, segments: readonly Segment[] | null): TiffFields | null {
  const segment = segments?.find((each) => isExif(bytes, each));
  if (segment) return readTiff(bytes.subarray(segment.payload + exifMark.length, segment.end));
  const chunks = listChunks(bytes);
  const chunk = chunks?.find(({ name }) => name === 'eXIf');
  if (chunk) return readTiff(bytes.subarray(chunk.content, chunk.end - 4));
  return segments || chunks ? null : readTiff(bytes.subarray(findExif(bytes)));
}

/** Where the TIFF block begins in a file of another kind (a HEIC keeps it as a piece of its own); its end when there is none. */
function findExif(bytes: Uint8Array): number {
  for (let at = bytes.indexOf(0x45); at >= 0; at = bytes.indexOf(0x45, at + 1))
    if (startsWith(bytes, at, exifMark)) return at + exifMark.length;
  return bytes.length;
}

function readSize(bytes: Uint8Array, segments: readonly Segment[] | null) {
  if (segments) return readFrameSize(bytes, segments);
  const header = listChunks(bytes)?.find(({ name }) => name === 'IHDR');
  if (!header) return null;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return { widthPx: view.getUint32(header.content), heightPx: view.getUint32(header.content + 4) };
}

/** The text of a field without what does not print, at most 60 letters; null for none. */
function readText(field: TiffField | undefined): string | null {
  if (field?.type !== 2) return null;
  const letters = [...field.value].map((code) =>
    code >= 32 && code < 127 ? String.fromCharCode(code) : ' ',
  );
  return letters.join('').trim().slice(0, 60) || null;
}

/** What a picture file says about itself, by signature and EXIF; null for what it does not tell. Any bytes may be given. */
export function readPictureFacts(bytes: Uint8Array): PictureFacts {
  const segments = listSegments(bytes);
  const exif = readExif(bytes, segments);
  const size = readSize(bytes, segments);
  const find = (fields: readonly TiffField[] | undefined, wanted: number) =>
    fields?.find(({ tag }) => tag === wanted);
  const little = exif?.littleEndian ?? true;
  const turn = find(exif?.main, tags.orientation);
  const focal = find(exif?.exif, tags.focal35);
  const zoom = find(exif?.exif, tags.digitalZoom);
  const orientation = (turn && readWhole(turn, little)) ?? 1;
  const focal35Mm = (focal && readWhole(focal, little)) ?? 0;
  const digitalZoom = (zoom && readRational(zoom, little)) ?? 0;
  const lens = find(exif?.exif, tags.focal);
  const focalMm = (lens && readRational(lens, little)) ?? 0;
  const takenAt = readText(find(exif?.exif, tags.takenAt));
  return {
    kind: tellPictureKind(bytes),
    widthPx: size?.widthPx ?? null,
    heightPx: size?.heightPx ?? null,
    orientation: orientation >= 1 && orientation <= 8 ? orientation : 1,
    focal35Mm: focal35Mm > 0 ? focal35Mm : null,
    digitalZoom: digitalZoom > 0 ? digitalZoom : null,
    focalMm: focalMm > 0 ? focalMm : null,
    camera: readText(find(exif?.main, tags.model)),
    // a clock that was never set is written as blanks or zeros
    takenAt: takenAt && /^[1-9]\d{3}(:\d\d){2} \d\d(:\d\d){2}$/.test(takenAt) ? takenAt : null,
  };
}

/**
 * Width and height (px) of a picture as it stands upright, by what its file says; null where it does not tell.
 * @example uprightSize({ widthPx: 4000, heightPx: 3000, orientation: 6 }).widthPx // 3000
 */
export function uprightSize(facts: Pick<PictureFacts, 'widthPx' | 'heightPx' | 'orientation'>) {
  const { widthPx, heightPx, orientation } = facts;
  if (widthPx === null || heightPx === null) return null;
  // orientations 5 to 8 exchange rows and columns
  return orientation >= 5 ? { widthPx: heightPx, heightPx: widthPx } : { widthPx, heightPx };
}

/** A digital zoom up to this ratio is none: some phones write 1.0 whenever there was none. */
const NO_ZOOM = 1.02;

/**
 * The 35 mm focal length that may be used of what a picture says, mm; null where it says none, or where it was taken with a
 * digital zoom: some makers count the zoom into the tag and some do not (common practice, no source).
 * @example usableFocal35({ focal35Mm: 26, digitalZoom: 1 }) // 26
 * @example usableFocal35({ focal35Mm: 26, digitalZoom: 2 }) // null
 */
export function usableFocal35(facts: Pick<PictureFacts, 'focal35Mm' | 'digitalZoom'>): number | null {
  return (facts.digitalZoom ?? 1) > NO_ZOOM ? null : facts.focal35Mm;
}

/** An EXIF block with the kept fields alone, null when nothing of it stays. */
function keepExif(block: Uint8Array): Uint8Array | null {
  const fields = readTiff(block);
  if (!fields) return null;
  const kept = (list: readonly TiffField[]) => list.filter(({ tag }) => keptTags.has(tag));
  const [main, exif] = [kept(fields.main), kept(fields.exif)];
  return main.length + exif.length > 0 ? writeTiff({ littleEndian: fields.littleEndian, main, exif }) : null;
}

function writeSegment(marker: number, content: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(4 + content.length);
  bytes.set([0xff, marker, (content.length + 2) >> 8, (content.length + 2) & 0xff]);
  bytes.set(content, 4);
  return bytes;
}

function joinBytes(parts: readonly Uint8Array[]): Uint8Array {
  const joined = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    joined.set(part, at);
    at += part.length;
  }
  return joined;
}

/** Application segments that the picture needs: JFIF, its colour profile, and how its colours are coded. */
function isNeeded(bytes: Uint8Array, { marker, payload }: Segment): boolean {
  if (marker < 0xe0 || (marker > 0xef && marker !== 0xfe)) return true;
  if (marker === 0xe0) return startsWith(bytes, payload, 'JFIF');
  if (marker === 0xe2) return startsWith(bytes, payload, 'ICC_PROFILE');
  return marker === 0xee && startsWith(bytes, payload, 'Adobe');
}

function stripJpeg(bytes: Uint8Array, segments: readonly Segment[]): Uint8Array {
  const encoder = [...exifMark].map((letter) => letter.charCodeAt(0));
  let hasExif = false;
  const parts = segments.flatMap((segment): Uint8Array[] => {
    const { start, payload, end, marker } = segment;
    if (!isExif(bytes, segment)) return isNeeded(bytes, segment) ? [bytes.subarray(start, end)] : [];
    const block = hasExif ? null : keepExif(bytes.subarray(payload + exifMark.length, end));
    hasExif = true;
    return block ? [writeSegment(marker, Uint8Array.from([...encoder, ...block]))] : [];
  });
  return joinBytes(parts);
}

/** Chunks of a PNG that hold text or dates. */
const wordyChunks: ReadonlySet<string> = new Set(['tEXt', 'zTXt', 'iTXt', 'tIME', 'dSIG']);

function stripPng(bytes: Uint8Array): Uint8Array {
  const parts = listChunks(bytes)!.flatMap(({ name, start, content, end }): Uint8Array[] => {
    if (wordyChunks.has(name)) return [];
    if (name !== 'eXIf') return [bytes.subarray(start, end)];
    const block = keepExif(bytes.subarray(content, end - 4));
    return block ? [writeChunk(name, block)] : [];
  });
  return joinBytes([bytes.subarray(0, 8), ...parts]);
}

/**
 * The picture without anything that names a place or a person: of its EXIF only orientation, camera, lens and exposure
 * stay; XMP, maker notes, thumbnails, comments and whatever is appended go. Not one byte of the coded picture changes.
 * @param file the picture's name, for the refusal
 * @throws picture_kind_unknown for anything but a JPEG or PNG
 */
export function stripLocation(bytes: Uint8Array, file = 'photo'): Uint8Array {
  const segments = listSegments(bytes);
  if (segments) return stripJpeg(bytes, segments);
  const kind = tellPictureKind(bytes);
  if (kind === 'png') return stripPng(bytes);
  return refuse({ code: 'picture_kind_unknown', file, kind });
}
