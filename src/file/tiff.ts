/** One field of an EXIF directory: its tag, TIFF type, count, and value bytes as they stand in the file. */
export interface TiffField {
  readonly tag: number;
  readonly type: number;
  readonly count: number;
  readonly value: Uint8Array;
}

/** What a TIFF block holds of the picture: its first directory and its EXIF directory. Everything else is passed over. */
export interface TiffFields {
  readonly littleEndian: boolean;
  readonly main: readonly TiffField[];
  readonly exif: readonly TiffField[];
}

/** Bytes of one value of a TIFF type (TIFF 6.0, section 2): byte, text, short, long, rational, and so on. */
const typeBytes = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8];
const exifPointer = 0x8769;

const viewOf = (bytes: Uint8Array) => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

function readDirectory(bytes: Uint8Array, offset: number, littleEndian: boolean): TiffField[] {
  const view = viewOf(bytes);
  if (offset < 8 || offset + 2 > bytes.length) return [];
  const fields: TiffField[] = [];
  for (let k = 0; k < view.getUint16(offset, littleEndian); k++) {
    const entry = offset + 2 + 12 * k;
    if (entry + 12 > bytes.length) break;
    const type = view.getUint16(entry + 2, littleEndian);
    const count = view.getUint32(entry + 4, littleEndian);
    const length = (typeBytes[type] ?? 0) * count;
    const at = length <= 4 ? entry + 8 : view.getUint32(entry + 8, littleEndian);
    if (length === 0 || at + length > bytes.length) continue;
    const tag = view.getUint16(entry, littleEndian);
    fields.push({ tag, type, count, value: bytes.slice(at, at + length) });
  }
  return fields;
}

/** The whole number of a SHORT or LONG field, null for another type. */
export function readWhole({ type, value }: TiffField, littleEndian: boolean): number | null {
  if (type === 3) return viewOf(value).getUint16(0, littleEndian);
  return type === 4 ? viewOf(value).getUint32(0, littleEndian) : null;
}

/** The number of a RATIONAL field, null for another type or a denominator of 0. */
export function readRational({ type, value }: TiffField, littleEndian: boolean): number | null {
  if (type !== 5) return null;
  const view = viewOf(value);
  const below = view.getUint32(4, littleEndian);
  return below === 0 ? null : view.getUint32(0, littleEndian) / below;
}

/** Reads the first and the EXIF directory of a TIFF block (TIFF 6.0; EXIF 2.32, 4.6); null when it is none. */
export function readTiff(bytes: Uint8Array): TiffFields | null {
  if (bytes.length < 8) return null;
  const order = String.fromCharCode(bytes[0]!, bytes[1]!);
  if (order !== 'II' && order !== 'MM') return null;
  const littleEndian = order === 'II';
  const view = viewOf(bytes);
  if (view.getUint16(2, littleEndian) !== 42) return null;
  const main = readDirectory(bytes, view.getUint32(4, littleEndian), littleEndian);
  const pointer = main.find(({ tag }) => tag === exifPointer);
  const at = pointer && readWhole(pointer, littleEndian);
  return { littleEndian, main, exif: at ? readDirectory(bytes, at, littleEndian) : [] };
}

/** Bytes a directory takes with the values that do not fit into its entries. */
function measureDirectory(fields: readonly TiffField[]): number {
  const outside = fields.reduce(
    (sum, { value }) => sum + (value.length > 4 ? value.length + (value.length % 2) : 0),
    0,
  );
  return 2 + 12 * fields.length + 4 + outside;
}

function writeDirectory(
  into: Uint8Array,
  offset: number,
  fields: readonly TiffField[],
  littleEndian: boolean,
): void {
  const view = viewOf(into);
  view.setUint16(offset, fields.length, littleEndian);
  let free = offset + 2 + 12 * fields.length + 4;
  fields.forEach(({ tag, type, count, value }, k) => {
    const entry = offset + 2 + 12 * k;
    view.setUint16(entry, tag, littleEndian);
    view.setUint16(entry + 2, type, littleEndian);
    view.setUint32(entry + 4, count, littleEndian);
    if (value.length <= 4) {
      into.set(value, entry + 8);
      return;
    }
    view.setUint32(entry + 8, free, littleEndian);
    into.set(value, free);
    free += value.length + (value.length % 2);
  });
}

/** A TIFF block with these fields and no others, sorted by tag as the format wants it. */
export function writeTiff({ littleEndian, main, exif }: TiffFields): Uint8Array {
  const byTag = (a: TiffField, b: TiffField) => a.tag - b.tag;
  const pointer: TiffField = { tag: exifPointer, type: 4, count: 1, value: new Uint8Array(4) };
  const others = main.filter(({ tag }) => tag !== exifPointer);
  const first = [...others, ...(exif.length > 0 ? [pointer] : [])].sort(byTag);
  const exifAt = 8 + measureDirectory(first);
  viewOf(pointer.value).setUint32(0, exifAt, littleEndian);
  const bytes = new Uint8Array(exifAt + (exif.length > 0 ? measureDirectory(exif) : 0));
  const view = viewOf(bytes);
  bytes.fill(littleEndian ? 0x49 : 0x4d, 0, 2);
  view.setUint16(2, 42, littleEndian);
  view.setUint32(4, 8, littleEndian);
  writeDirectory(bytes, 8, first, littleEndian);
  if (exif.length > 0) writeDirectory(bytes, exifAt, [...exif].sort(byTag), littleEndian);
  return bytes;
}
