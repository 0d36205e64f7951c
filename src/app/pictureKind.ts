import type { Refusal } from '../core/refusal.ts';
import { tellPictureKind } from '../file/exif.ts';

/** Whether a file is a JPEG or PNG by its first bytes, since names and MIME types lie. */
export function isPicture(bytes: Uint8Array): boolean {
  return ['jpeg', 'png'].includes(tellPictureKind(bytes));
}

/**
 * Whether a file is a ZIP by its first bytes (PKWARE APPNOTE 4.3.7, local file header).
 * @example isZip(Uint8Array.of(0x50, 0x4b, 3, 4, 20)) // true
 */
export function isZip(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 3 && bytes[3] === 4;
}

/** Why a file cannot be measured as a photograph; null when it is a JPEG or PNG. */
export function refusalOfFile(bytes: Uint8Array, file: string): Refusal | null {
  if (isPicture(bytes)) return null;
  const kind = tellPictureKind(bytes);
  return kind === 'unknown' ? { code: 'not_a_picture', file } : { code: 'picture_kind_unknown', file, kind };
}
