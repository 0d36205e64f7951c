import type { Orientation } from '../../samples/make/exif.ts';
import { encodePhotograph } from '../../samples/make/jpeg.ts';
import { findLine } from '../../src/vision/findLines.ts';
import type { Picture } from '../../src/vision/picture.ts';
import type { LinePoint } from '../../src/core/survey.ts';
import { decodePicture } from '../pictureNode.ts';

/** A made picture as a phone's JPEG file. */
export const writePhotograph = (
  picture: Picture,
  orientation: Orientation = 1,
  focal35Mm: number | null = 27,
): Promise<Uint8Array> =>
  encodePhotograph(picture, 95, { orientation, focal35Mm, focalMm: 7, takenAt: '2024:05:14 09:12:40' });

/** The points of a green level line in a picture file, as Node decodes it. */
export async function findInFile(file: Uint8Array): Promise<readonly LinePoint[]> {
  const picture = await decodePicture(file, 'made.jpg');
  return findLine(picture, { axis: 'level', colour: 'green' })?.points ?? [];
}

/** How far apart two sets of points of one level line are (px across it), over the columns that both have. */
export function comparePoints(one: readonly LinePoint[], other: readonly LinePoint[]) {
  const rows = new Map(other.map(({ u, v }) => [u, v]));
  const apart = one.flatMap(({ u, v }) => (rows.has(u) ? [Math.abs(v - rows.get(u)!)] : []));
  const sorted = apart.sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
  return {
    common: apart.length / Math.max(one.length, other.length),
    rmsPx: Math.sqrt(apart.reduce((sum, px) => sum + px * px, 0) / apart.length),
    medianPx: at(0.5),
    nearlyAllPx: at(0.99),
    mostPx: sorted.at(-1)!,
  };
}
