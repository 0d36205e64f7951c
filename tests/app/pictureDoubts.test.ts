import { expect, test } from 'vitest';
import { holdsFiles, listHanded } from '../../src/app/handedFiles.ts';
import { findEarlierTwin, listPictureDoubts, type Looked } from '../../src/app/pictureDoubts.ts';
import { readPictureFacts } from '../../src/file/exif.ts';
import { makeJpeg } from '../file/pictures.ts';

const look: Looked = {
  facts: { ...readPictureFacts(makeJpeg()), digitalZoom: null },
  length: 10,
  hash: 1,
  widthPx: 4000,
  heightPx: 3000,
  blurred: false,
  print: new Uint8Array(192),
};
const photo = (id: string, widthPx = 4000, heightPx = 3000) => ({ id, widthPx, heightPx, focal35Mm: 26 });
const codes = (...of: Parameters<typeof listPictureDoubts>) =>
  listPictureDoubts(...of).map(({ code }) => code);

test('what a picture shows is doubted once it was looked at, beside the others once all were', () => {
  const others = [1, 2].map((n) => ({ photo: photo(`f${n}`), look: { ...look, hash: n } }));
  const odd = { photo: photo('f3', 3264, 2448), look: { ...look, hash: 3, widthPx: 3264, heightPx: 2448 } };
  expect(codes(odd, [...others, odd])).toEqual(['photo_size_odd']);
  expect(codes(odd, [...others, odd, { photo: photo('f4'), look: undefined }])).toEqual([]);
  expect(codes({ ...odd, look: { ...odd.look, blurred: true } }, [odd])).toEqual(['photo_blurred']);
  const small = { photo: photo('f3', 1024, 768), look: odd.look };
  expect(codes(small, [...others, small])).toEqual(['photo_small']);
});

test('of two photos of one picture the later is named, none where a picture is not here', () => {
  const first = { photo: photo('f1'), look };
  const second = { photo: photo('f2'), look };
  expect(findEarlierTwin(second, [first, second])).toEqual({ photo: 'f1', how: 'same_bytes' });
  expect(findEarlierTwin(first, [first, second])).toBeNull();
  expect(findEarlierTwin({ ...second, look: null }, [first, second])).toBeNull();
});

test('what is handed over is files with names, and dragged text is none', () => {
  expect(holdsFiles({ types: ['text/plain'] })).toBe(false);
  expect(holdsFiles({ types: ['text/html', 'Files'] })).toBe(true);
  const files = [new File(['a'], 'image.png', { type: 'image/png' }), new File(['b'], 'IMG_1.JPG')];
  const list = listHanded({ files: files as unknown as FileList });
  expect(list.map(({ name }) => name)).toEqual(['pasted.png', 'IMG_1.JPG']);
});
