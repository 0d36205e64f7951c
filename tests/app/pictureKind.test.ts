import { expect, test } from 'vitest';
import { isPicture, isZip, refusalOfFile } from '../../src/app/pictureKind.ts';
import { sentenceOf } from '../../src/ui/words.ts';

const bytesOf = (start: string) => Uint8Array.from(start, (letter) => letter.charCodeAt(0));

test('HEIC where the browser cannot decode it: only JPEG and PNG are taken as they are; the refusal names the kind it saw', () => {
  expect(refusalOfFile(bytesOf('\xff\xd8\xff\xe1'), 'a.jpg')).toBeNull();
  expect(isPicture(bytesOf('\x89PNG\r\n\x1a\n'))).toBe(true);
  const heic = refusalOfFile(bytesOf('\0\0\0\x18ftypheic'), 'IMG_1.jpg');
  expect(heic).toEqual({ code: 'picture_kind_unknown', file: 'IMG_1.jpg', kind: 'heic' });
  expect(sentenceOf(heic!)).toContain('most compatible');
  for (const start of ['hello', '%PDF-1.7', ''])
    expect(refusalOfFile(bytesOf(start), 'a.jpg')).toEqual({ code: 'not_a_picture', file: 'a.jpg' });
});

test('a ZIP is told by its first bytes', () => {
  expect(isZip(bytesOf('PK\x03\x04'))).toBe(true);
  expect(isZip(bytesOf('{"format"'))).toBe(false);
});
