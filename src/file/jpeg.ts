/** One marker segment of a JPEG: marker byte, where it starts, where its payload is, and where the next one starts. */
export interface Segment {
  readonly marker: number;
  readonly start: number;
  readonly payload: number;
  readonly end: number;
}

const SOI = 0xd8;
const EOI = 0xd9;
const SOS = 0xda;
const hasNoLength = (marker: number) => (marker >= 0xd0 && marker <= SOI) || marker === 0x01;

/** Where the coded picture after a scan header ends: the next marker that is neither stuffing nor a restart. */
function endOfScan(bytes: Uint8Array, from: number): number {
  for (let at = from; at + 1 < bytes.length; at++) {
    if (bytes[at] !== 0xff) continue;
    const next = bytes[at + 1]!;
    if (next !== 0x00 && next !== 0xff && !(next >= 0xd0 && next <= 0xd7)) return at;
  }
  return bytes.length;
}

/**
 * The marker segments of a JPEG's first picture in order (ITU-T T.81, annex B), a scan's coded data as part of its SOS
 * segment; stops at the end of the picture, so that what some phones append is left out. Null when
 * it does not start as a JPEG.
 */
export function listSegments(bytes: Uint8Array): Segment[] | null {
  if (bytes[0] !== 0xff || bytes[1] !== SOI) return null;
  const segments: Segment[] = [{ marker: SOI, start: 0, payload: 2, end: 2 }];
  let at = 2;
  while (at + 1 < bytes.length) {
    const marker = bytes[at + 1]!;
    // any number of 0xFF may stand before a marker; decoders skip other stray bytes there, and so it is here
    if (bytes[at] !== 0xff || marker === 0xff || marker === 0x00) {
      at++;
      continue;
    }
    if (marker === EOI || hasNoLength(marker)) {
      segments.push({ marker, start: at, payload: at + 2, end: at + 2 });
      if (marker === EOI) break;
      at += 2;
      continue;
    }
    const length = (bytes[at + 2]! << 8) | bytes[at + 3]!;
    if (!(length >= 2)) break;
    const header = Math.min(at + 2 + length, bytes.length);
    const end = marker === SOS ? endOfScan(bytes, header) : header;
    segments.push({ marker, start: at, payload: at + 4, end });
    at = end;
  }
  return segments;
}

/** Whether a segment's payload starts with an ASCII text. */
export function startsWith(bytes: Uint8Array, at: number, text: string): boolean {
  return [...text].every((letter, k) => bytes[at + k] === letter.charCodeAt(0));
}

const isFrame = ({ marker }: Segment) =>
  marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;

/** How many colours a JPEG holds: 1 grey, 3 usual, 4 printer's colours; null when it is no JPEG or does not tell. */
export function countColours(bytes: Uint8Array): number | null {
  const frame = listSegments(bytes)?.find(isFrame);
  return (frame && bytes[frame.payload + 5]) ?? null;
}

/** Width and height (px) from a start-of-frame segment, as stored, before any EXIF turn; null when there is none. */
export function readFrameSize(bytes: Uint8Array, segments: readonly Segment[]) {
  const frame = segments.find(isFrame);
  if (!frame || frame.payload + 5 > bytes.length) return null;
  const at = frame.payload;
  const word = (offset: number) => (bytes[at + offset]! << 8) | bytes[at + offset + 1]!;
  return { heightPx: word(1), widthPx: word(3) };
}
