import exifr from 'exifr';
import { describe, expect, test } from 'vitest';
import { Refused } from '../../src/core/refusal.ts';
import { readPictureFacts, stripLocation, tellPictureKind } from '../../src/file/exif.ts';
import { listSegments } from '../../src/file/jpeg.ts';
import { computeCrc, listChunks } from '../../src/file/png.ts';
import { codedJpeg, joinAll, makeJpeg, makePng, makeTiff, secret } from './pictures.ts';

const textOf = (bytes: Uint8Array) => Buffer.from(bytes).toString('latin1');
// exifr reads such files on its own: the reference here (https://github.com/MikeKovarik/exifr, MIT)
const everything = {
  tiff: true,
  exif: true,
  gps: true,
  ifd1: true,
  xmp: true,
  iptc: true,
  makerNote: true,
  userComment: true,
};
const readByExifr = (bytes: Uint8Array) =>
  exifr.parse(Buffer.from(bytes), { ...everything, translateValues: false, mergeOutput: true }) as Promise<
    Record<string, unknown> | undefined
  >;

describe('facts of a picture', () => {
  test.each([true, false])('as another reader reads them (little endian: %s)', async (little) => {
    const jpeg = makeJpeg(little);
    const facts = readPictureFacts(jpeg);
    expect(facts).toEqual({
      kind: 'jpeg',
      widthPx: 4000,
      heightPx: 3000,
      orientation: 6,
      focal35Mm: 26,
      digitalZoom: 1.5,
      focalMm: 4.25,
      camera: 'Model',
      takenAt: '2026:03:14 09:30:00',
    });
    const other = await readByExifr(jpeg);
    expect(other).toMatchObject({
      Orientation: 6,
      FocalLengthIn35mmFormat: 26,
      DigitalZoomRatio: 1.5,
      FocalLength: 4.25,
      Model: 'Model',
    });
    expect(other!.latitude).toBeCloseTo(51.4933, 3);
  });

  test('EXIF orientation: all eight, and 1 for one that is none', () => {
    for (let turn = 1; turn <= 8; turn++)
      expect(readPictureFacts(makeJpeg(true, turn)).orientation).toBe(turn);
    expect(readPictureFacts(makeJpeg(true, 9)).orientation).toBe(1);
  });

  test('a PNG tells its size and its EXIF', () => {
    expect(readPictureFacts(makePng())).toMatchObject({
      kind: 'png',
      widthPx: 640,
      heightPx: 480,
      orientation: 6,
      focal35Mm: 26,
    });
  });

  test('a picture without EXIF has none', () => {
    const plain = joinAll([0xff, 0xd8], codedJpeg, [0xff, 0xd9]);
    expect(readPictureFacts(plain)).toEqual({
      kind: 'jpeg',
      widthPx: 4000,
      heightPx: 3000,
      orientation: 1,
      focal35Mm: null,
      digitalZoom: null,
      focalMm: null,
      camera: null,
      takenAt: null,
    });
  });

  test('a HEIC tells its focal length, wherever in the file its EXIF is', () => {
    const head = Uint8Array.from('\0\0\0\x18ftypheic\0\0\0\0EEEE', (letter) => letter.charCodeAt(0));
    const heic = joinAll(head, Buffer.from('Exif\0\0'), makeTiff(false));
    expect(readPictureFacts(heic)).toMatchObject({
      kind: 'heic',
      focal35Mm: 26,
      digitalZoom: 1.5,
      widthPx: null,
    });
    expect(readPictureFacts(head)).toMatchObject({ kind: 'heic', focal35Mm: null });
  });

  test('any bytes at all are answered', () => {
    const whole = makeJpeg();
    for (let length = 0; length < whole.length; length += 7)
      expect(() => readPictureFacts(whole.subarray(0, length))).not.toThrow();
    for (let at = 0; at < 600; at += 3) {
      const broken = whole.slice();
      broken[at] = 255 - broken[at]!;
      expect(() => readPictureFacts(broken)).not.toThrow();
    }
  });

  test.each<[string, number[] | string]>([
    ['jpeg', [0xff, 0xd8, 0xff, 0xe1]],
    ['png', [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]],
    ['heic', '\0\0\0\x18ftypheic\0\0\0\0'],
    ['heic', '\0\0\0\x18ftypmif1\0\0\0\0'],
    ['avif', '\0\0\0\x18ftypavif\0\0\0\0'],
    ['unknown', '\0\0\0\x18ftypmp42\0\0\0\0'],
    ['webp', 'RIFF\0\0\0\0WEBPVP8 '],
    ['gif', 'GIF89a'],
    ['tiff', 'II*\0'],
    ['tiff', 'MM\0*'],
    ['bmp', 'BM'],
    ['unknown', ''],
    ['unknown', '{"format": 1}'],
  ])('%s is told by its first bytes', (kind, given) => {
    expect(
      tellPictureKind(
        typeof given === 'string' ? Uint8Array.from(Buffer.from(given, 'latin1')) : Uint8Array.from(given),
      ),
    ).toBe(kind);
  });
});

describe('Photos carry the GPS position', () => {
  test.each([true, false])(
    'leaves nothing that names a place or a person (little endian: %s)',
    async (little) => {
      const jpeg = makeJpeg(little);
      expect(textOf(jpeg).split(secret).length - 1).toBeGreaterThan(8);
      const stripped = stripLocation(jpeg);
      expect(textOf(stripped)).not.toContain('SECRET');
      expect(textOf(stripped)).not.toMatch(/xap|Photoshop|MPF|GPS/);
      const other = await readByExifr(stripped);
      expect(other).toEqual({
        Make: 'Maker',
        Model: 'Model',
        Orientation: 6,
        ExposureTime: 0.02,
        DateTimeOriginal: expect.anything() as unknown,
        FocalLength: 4.25,
        DigitalZoomRatio: 1.5,
        FocalLengthIn35mmFormat: 26,
      });
      expect(await exifr.gps(Buffer.from(stripped))).toBeUndefined();
    },
  );

  test('keeps how to turn it and its focal length, and every byte of the picture', () => {
    const jpeg = makeJpeg();
    const stripped = stripLocation(jpeg);
    expect(readPictureFacts(stripped)).toEqual(readPictureFacts(jpeg));
    expect(textOf(stripped)).toContain(textOf(codedJpeg));
    const markers = listSegments(stripped)!.map(({ marker }) => marker);
    expect(markers).toEqual([0xd8, 0xe0, 0xe1, 0xe2, 0xee, 0xdb, 0xc2, 0xda, 0xda, 0xd9]);
    expect(textOf(stripped)).toContain('ICC_PROFILE');
  });

  test('ends at the end of the first picture', () => {
    const stripped = stripLocation(makeJpeg());
    expect([...stripped.subarray(-2)]).toEqual([0xff, 0xd9]);
    expect(listSegments(stripped)!.at(-1)!.end).toBe(stripped.length);
  });

  test('a second time changes nothing', () => {
    const once = stripLocation(makeJpeg(false));
    expect(stripLocation(once)).toEqual(once);
    const png = stripLocation(makePng());
    expect(stripLocation(png)).toEqual(png);
  });

  test('an EXIF block that cannot be read goes as a whole', () => {
    const jpeg = makeJpeg();
    const at = textOf(jpeg).indexOf('Exif\0\0') + 6;
    jpeg[at] = 0x58;
    expect(textOf(stripLocation(jpeg))).not.toMatch(/Exif|SECRET/);
  });

  test('a PNG keeps its picture and the turn, with sound checksums', () => {
    const png = makePng();
    const stripped = stripLocation(png);
    expect(textOf(stripped)).not.toContain('SECRET');
    expect(readPictureFacts(stripped)).toEqual(readPictureFacts(png));
    const chunks = listChunks(stripped)!;
    expect(chunks.map(({ name }) => name)).toEqual(['IHDR', 'eXIf', 'IDAT', 'IEND']);
    const view = new DataView(stripped.buffer);
    for (const { start, end } of chunks)
      expect(view.getUint32(end - 4)).toBe(computeCrc(stripped.subarray(start + 4, end - 4)));
  });

  test('a picture cut short keeps what is there', () => {
    const cut = makeJpeg().subarray(0, textOf(makeJpeg()).indexOf(textOf(codedJpeg)) + codedJpeg.length - 3);
    expect(textOf(stripLocation(cut))).not.toContain('SECRET');
    expect(readPictureFacts(stripLocation(cut)).widthPx).toBe(4000);
  });

  test('anything else is refused, so that nothing is kept unstripped', () => {
    const heic = Uint8Array.from(Buffer.from(`\0\0\0\x18ftypheic${secret}`, 'latin1'));
    let refusal: unknown;
    try {
      stripLocation(heic, 'wall.heic');
    } catch (thrown) {
      refusal = thrown instanceof Refused ? thrown.refusal : thrown;
    }
    expect(refusal).toEqual({ code: 'picture_kind_unknown', file: 'wall.heic', kind: 'heic' });
  });
});

test('the made EXIF block is one that phones could have written', async () => {
  const block = makeTiff(true);
  expect(await readByExifr(block)).toMatchObject({ Make: 'Maker', Orientation: 6, GPSLatitudeRef: 'N' });
});
