import { expect, test } from 'vitest';
import { doubtBeside, doubtPicture, type PictureTold } from '../../../src/core/camera/pictureDoubt.ts';

const doubt = (widthPx: number, heightPx: number, focal35Mm: number | null = 26) =>
  doubtPicture({ id: 'f1', widthPx, heightPx, focal35Mm }).map(({ code }) => code);

test('Shrunk photos: what messengers and upload sheets make of a picture is doubted', () => {
  for (const [width, height] of [
    [1024, 768],
    [1600, 1200],
    [2048, 1536],
    [1536, 2048],
    [640, 480],
  ] as const)
    // prettier-ignore
    expect(doubt(width, height), `${width} x ${height}`).toEqual(['photo_small']);
  for (const [width, height] of [
    [4000, 3000],
    [3024, 4032],
    [8064, 6048],
    [12000, 9000],
    [4000, 2250],
    [6000, 4000],
    [3264, 2448],
  ] as const)
    // prettier-ignore
    expect(doubt(width, height), `${width} x ${height}`).toEqual([]);
});

test('Shrunk photos: a cut picture has a shape that no camera makes', () => {
  expect(doubt(4000, 2500)).toEqual(['photo_cropped']);
  expect(doubt(4032, 2600)).toEqual(['photo_cropped']);
  expect(doubt(3456, 4608)).toEqual([]);
});

test('Focal length: an ultra-wide camera is doubted, none and zero are not', () => {
  expect(doubt(4000, 3000, 13)).toEqual(['photo_wide']);
  expect(doubt(4000, 3000, 19)).toEqual(['photo_wide']);
  for (const focal of [20, 26, 77, 0, null]) expect(doubt(4000, 3000, focal)).toEqual([]);
});

test('a picture of which nothing is known yet is not doubted', () => {
  expect(doubtPicture({ id: 'f1' })).toEqual([]);
});

const told: PictureTold = {
  widthPx: 4000,
  heightPx: 3000,
  camera: 'A1',
  focalMm: 6.8,
  focal35Mm: 26,
  digitalZoom: null,
};
const beside = (part: Partial<PictureTold>, others: readonly PictureTold[] = [told, told]) => {
  const picture = { ...told, ...part };
  return doubtBeside('f3', picture, [...others, picture]).map(({ code }) => code);
};

test('Focal length: a digital zoom is doubted by its ratio, or by a longer figure through the same lens', () => {
  expect(beside({})).toEqual([]);
  expect(beside({ digitalZoom: 2 })).toEqual(['photo_zoomed']);
  expect(beside({ digitalZoom: 1 })).toEqual([]);
  expect(beside({ focal35Mm: 52 })).toEqual(['photo_zoomed']);
  expect(beside({ focal35Mm: 28 })).toEqual([]);
  expect(beside({ focal35Mm: 52, focalMm: null })).toEqual(['photo_zoomed']);
  // the phone's tele camera is no zoom
  expect(beside({ focal35Mm: 77, focalMm: 9 })).toEqual([]);
  // another phone's photos say nothing of this one
  expect(beside({ focal35Mm: 52, camera: 'B2' })).toEqual([]);
});

test('Shrunk photos: another size than most of the same phone is doubted, an upright one is not', () => {
  expect(beside({ widthPx: 3264, heightPx: 2448 })).toEqual(['photo_size_odd']);
  expect(beside({ widthPx: 3000, heightPx: 4000 })).toEqual([]);
  expect(beside({ widthPx: 3264, heightPx: 2448, camera: 'B2' })).toEqual([]);
  expect(beside({ widthPx: 3264, heightPx: 2448 }, [])).toEqual([]);
});
