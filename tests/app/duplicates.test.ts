import { expect, test } from 'vitest';
import { findTwin, hashBytes, makePrint, type PictureTrace } from '../../src/app/duplicates.ts';

const bytesOf = (text: string) => Uint8Array.from(text, (letter) => letter.charCodeAt(0));
const levels = Uint8Array.from({ length: 160 * 120 }, (_, k) => 100 + 60 * Math.sin(k / 900) + (k % 160) / 4);
const picture = { widthPx: 160, heightPx: 120, levels };
const trace: PictureTrace = {
  length: 1000,
  hash: 7,
  takenAt: '2026:03:14 09:30:00',
  widthPx: 4000,
  heightPx: 3000,
  print: makePrint(picture),
};
const others = [['f3', trace]] as const;

test('the hash of bytes is FNV-1a, 32 bits', () => {
  // values published with the hash (from memory)
  expect(hashBytes(bytesOf(''))).toBe(0x811c9dc5);
  expect(hashBytes(bytesOf('a'))).toBe(0xe40c292c);
  expect(hashBytes(bytesOf('foobar'))).toBe(0xbf9cf968);
});

test('the very same file is known again, whatever else is told of it', () => {
  expect(findTwin({ ...trace, takenAt: null }, others)).toEqual({ photo: 'f3', how: 'same_bytes' });
  expect(findTwin({ ...trace, length: 1001, takenAt: null }, others)).toBeNull();
});

test('a picture saved anew is known by second, size and looks; each of them alone is not enough', () => {
  const coarser = { ...picture, levels: levels.map((level) => 8 * Math.round(level / 8)) };
  const anew = { ...trace, length: 700, hash: 8, print: makePrint(coarser) };
  expect(findTwin(anew, others)).toEqual({ photo: 'f3', how: 'look_alike' });
  expect(findTwin({ ...anew, takenAt: '2026:03:14 09:30:01' }, others)).toBeNull();
  expect(findTwin({ ...anew, takenAt: null }, [['f3', { ...trace, takenAt: null }]])).toBeNull();
  expect(findTwin({ ...anew, widthPx: 3999 }, others)).toBeNull();
  // the next shot of a burst, the phone moved on by a twentieth of the picture
  const moved = { ...picture, levels: levels.map((_, k) => levels[Math.max(0, k - 8)]!) };
  expect(findTwin({ ...anew, print: makePrint(moved) }, others)).toBeNull();
});
