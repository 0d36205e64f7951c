import type { GreyLevels } from '../vision/sharpness.ts';

/** What a picture is known again by. */
export interface PictureTrace {
  /** Length and hash of the bytes as kept. */
  readonly length: number;
  readonly hash: number;
  /** When it was taken by the phone's clock, to the second; null = not told. */
  readonly takenAt: string | null;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Means of its parts, see `makePrint`. */
  readonly print: Uint8Array;
}

/** A picture that is there already: byte for byte, or saved anew. */
export interface Twin {
  readonly photo: string;
  readonly how: 'same_bytes' | 'look_alike';
}

const PRINT_COLUMNS = 16;
const PRINT_ROWS = 12;
/** Parts of a picture that was saved anew differ by less than this on the mean (levels); two shots from the hand by more. */
const ALIKE_LEVELS = 1;

/**
 * Hash of bytes, 32 bits: FNV-1a (Fowler, Noll and Vo; offset, prime and the example from memory).
 * @example hashBytes(Uint8Array.of(97)) // 0xe40c292c
 */
export function hashBytes(bytes: Uint8Array): number {
  let hash = 0x811c9dc5;
  for (const byte of bytes) hash = Math.imul(hash ^ byte, 0x01000193);
  return hash >>> 0;
}

/** Mean grey levels of 16 x 12 parts of a picture, which saving it anew hardly changes. */
export function makePrint({ widthPx, heightPx, levels }: GreyLevels): Uint8Array {
  const sums = new Float64Array(PRINT_COLUMNS * PRINT_ROWS);
  const counts = new Float64Array(sums.length);
  for (let y = 0, at = 0; y < heightPx; y++) {
    const row = Math.floor((y * PRINT_ROWS) / heightPx) * PRINT_COLUMNS;
    for (let x = 0; x < widthPx; x++, at++) {
      const part = row + Math.floor((x * PRINT_COLUMNS) / widthPx);
      sums[part]! += levels[at]!;
      counts[part]! += 1;
    }
  }
  return Uint8Array.from(sums, (sum, part) => Math.round(sum / Math.max(1, counts[part]!)));
}

const isAlike = (one: Uint8Array, other: Uint8Array) =>
  one.reduce((sum, level, part) => sum + Math.abs(level - other[part]!), 0) <= ALIKE_LEVELS * one.length;

/** Whether two files as kept are the same, byte for byte as far as length and hash tell. */
export const isSameFile = (
  one: Pick<PictureTrace, 'length' | 'hash'>,
  other: Pick<PictureTrace, 'length' | 'hash'>,
) => one.length === other.length && one.hash === other.hash;

/**
 * The first of the pictures by photo that a picture is the same as: the same bytes, or taken in the same second at the same size and
 * looking alike in every part; null when it is new.
 */
export function findTwin(
  picture: PictureTrace,
  others: Iterable<readonly [photo: string, trace: PictureTrace]>,
): Twin | null {
  let alike: Twin | null = null;
  for (const [photo, other] of others) {
    if (isSameFile(picture, other)) return { photo, how: 'same_bytes' };
    const sameShot =
      picture.takenAt !== null &&
      picture.takenAt === other.takenAt &&
      picture.widthPx === other.widthPx &&
      picture.heightPx === other.heightPx;
    if (sameShot && isAlike(picture.print, other.print)) alike ??= { photo, how: 'look_alike' };
  }
  return alike;
}
