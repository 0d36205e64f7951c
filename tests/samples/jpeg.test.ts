import exifr from 'exifr';
import { expect, test } from 'vitest';
import type { Orientation } from '../../samples/make/exif.ts';
import { encodePhotograph, storeTurned } from '../../samples/make/jpeg.ts';
import { makeScene, takePhotograph } from '../truth/scenes.ts';
import { decodePicture } from '../pictureNode.ts';

const picture = takePhotograph(makeScene('small', { widthPx: 160, heightPx: 96 }));
const notes = { orientation: 1, focal35Mm: 26, focalMm: 6.75, takenAt: '2024:05:14 09:12:40' } as const;
const orientations: Orientation[] = [1, 2, 3, 4, 5, 6, 7, 8];

// exifr: a reader of other people's
test('the notes are read back by exifr', async () => {
  const file = await encodePhotograph(picture, 80, notes);
  const read = (await exifr.parse(file, { translateValues: false })) as Record<string, unknown>;
  expect(read).toMatchObject({
    Orientation: 1,
    FocalLengthIn35mmFormat: 26,
    FocalLength: 6.75,
    Make: 'phone',
    ExifImageWidth: 160,
    ExifImageHeight: 96,
  });
  expect(await exifr.gps(file)).toBeUndefined();
});

test('a picture without a focal length has no such tag', async () => {
  const file = await encodePhotograph(picture, 80, { ...notes, focal35Mm: null });
  const read = (await exifr.parse(file)) as Record<string, unknown>;
  expect(read).not.toHaveProperty('FocalLengthIn35mmFormat');
});

test.each(orientations)('EXIF orientation %i: stored so it comes back upright', async (orientation) => {
  const file = await encodePhotograph(picture, 95, { ...notes, orientation });
  expect(await exifr.orientation(file)).toBe(orientation);
  const upright = await decodePicture(file, 'turned.jpg');
  expect([upright.widthPx, upright.heightPx]).toEqual([160, 96]);
  let off = 0;
  for (let i = 0; i < upright.rgba.length; i++) off += Math.abs(upright.rgba[i]! - picture.rgba[i]!);
  expect(off / upright.rgba.length).toBeLessThan(4);
});

test('turning changes where pixels are stored, each kept once', () => {
  const places = orientations.map((orientation) => storeTurned(picture, orientation));
  const sum = (rgba: ArrayLike<number>) => Array.from(rgba).reduce((a, b) => a + b, 0);
  for (const stored of places) expect(sum(stored.rgba)).toBe(sum(picture.rgba));
  // tag 6: the first stored row is the right side of the upright picture, its first column the top
  const stored = places[5]!;
  const corner = 4 * (picture.widthPx - 1);
  expect([...stored.rgba.subarray(0, 4)]).toEqual([...picture.rgba.subarray(corner, corner + 4)]);
});

test('the same picture gives the same bytes, colour at half size', async () => {
  const [one, other] = [
    await encodePhotograph(picture, 80, notes),
    await encodePhotograph(picture, 80, notes),
  ];
  expect(Buffer.from(one).equals(Buffer.from(other))).toBe(true);
  // ITU-T T.81: in the frame header, after component 1's number, its sampling factors: 2 x 2
  const frame = one.findIndex((byte, i) => byte === 0xff && one[i + 1] === 0xc0);
  expect(one[frame + 11]).toBe(0x22);
});
