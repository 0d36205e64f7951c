// One test for each fault of pictures that gives wrong numbers without a crash; the browser's half is in
// tests/browser/pictures.spec.ts.
import { beforeAll, describe, expect, test } from 'vitest';
import { resectPhoto } from '../../src/core/camera/resect.ts';
import { readPictureFacts, usableFocal35 } from '../../src/file/exif.ts';
import { findLine } from '../../src/vision/findLines.ts';
import type { LinePoint } from '../../src/core/survey.ts';
import type { Orientation } from '../../samples/make/exif.ts';
import { decodePicture } from '../pictureNode.ts';
import { displayP3Colorants, putProfile, toDisplayP3, writeDisplayP3Profile } from '../truth/displayP3.ts';
import { comparePoints, findInFile, writePhotograph } from '../truth/photographFile.ts';
import { seedRandom } from '../truth/random.ts';
import { greenPlaster, takePhotograph } from '../truth/scenes.ts';
import { makeSurvey } from '../truth/survey.ts';
import { makeJpeg } from '../file/pictures.ts';

let file: Uint8Array;
let points: readonly LinePoint[];
const picture = takePhotograph(greenPlaster());

beforeAll(async () => {
  file = await writePhotograph(picture);
  points = await findInFile(file);
  expect(points.length).toBeGreaterThan(1200);
});

describe('EXIF orientation', () => {
  test.each([2, 3, 4, 5, 6, 7, 8] as Orientation[])('stored as %i: the same points', async (orientation) => {
    const turned = await findInFile(await writePhotograph(picture, orientation));
    const { common, rmsPx, nearlyAllPx } = comparePoints(points, turned);
    expect(common).toBeGreaterThan(0.995);
    // a JPEG stored turned is coded a little differently
    expect(rmsPx).toBeLessThan(0.03);
    expect(nearlyAllPx).toBeLessThan(0.1);
  });
});

test('Altered pixels: one level in half a per cent of the pixels moves no point by 0.05 px', async () => {
  const decoded = await decodePicture(file, 'made.jpg');
  const random = seedRandom(9);
  const rgba = decoded.rgba.slice();
  const pixels = rgba.length / 4;
  for (let n = 0; n < pixels / 200; n++) {
    const k = 4 * Math.floor(random.uniform() * pixels);
    for (let c = k; c < k + 3; c++) rgba[c] = rgba[c]! + (random.uniform() < 0.5 ? -1 : 1);
  }
  const altered = findLine({ ...decoded, rgba }, { axis: 'level', colour: 'green' })!;
  const { common, mostPx } = comparePoints(points, altered.points);
  expect(common).toBe(1);
  expect(mostPx).toBeGreaterThan(0);
  expect(mostPx).toBeLessThan(0.05);
});

describe('Wide-gamut photos', () => {
  test('the made profile has the colorants that Display P3 profiles hold', () => {
    // the XYZ of the colorants in such a profile, to four places (from memory)
    const published = [
      [0.5151, 0.292, 0.1571],
      [0.2412, 0.6922, 0.0666],
      [-0.0011, 0.0419, 0.7841],
    ];
    displayP3Colorants().forEach((row, i) =>
      row.forEach((value, j) => expect(value).toBeCloseTo(published[i]![j]!, 3)),
    );
  });

  test('the same colours in Display P3 and in sRGB give the same points within 0.1 px', async () => {
    const wide = putProfile(await writePhotograph(toDisplayP3(picture)), writeDisplayP3Profile());
    const [one, other] = [await decodePicture(file, 'a.jpg'), await decodePicture(wide, 'b.jpg')];
    let apart = 0;
    for (let k = 0; k < one.rgba.length; k++) apart += Math.abs(one.rgba[k]! - other.rgba[k]!);
    expect(apart / one.rgba.length).toBeLessThan(1.5);
    const { common, rmsPx, nearlyAllPx } = comparePoints(points, await findInFile(wide));
    expect(common).toBeGreaterThan(0.99);
    expect(rmsPx).toBeLessThan(0.05);
    expect(nearlyAllPx).toBeLessThan(0.1);
  });

  test('the same pixels with and without a profile agree within 0.1 px', async () => {
    const tagged = putProfile(file, writeDisplayP3Profile());
    const { common, rmsPx, nearlyAllPx } = comparePoints(points, await findInFile(tagged));
    expect(common).toBeGreaterThan(0.99);
    expect(rmsPx).toBeGreaterThan(0);
    expect(nearlyAllPx).toBeLessThan(0.1);
  });
});

describe('Focal length', () => {
  test('the 35 mm tag is read as the whole number it is; none is none', async () => {
    expect(usableFocal35(readPictureFacts(file))).toBe(27);
    expect(usableFocal35(readPictureFacts(await writePhotograph(picture, 1, null)))).toBeNull();
    expect(usableFocal35(readPictureFacts(await writePhotograph(picture, 1, 0)))).toBeNull();
  });

  test('a digital zoom is read, and the tag then not trusted', () => {
    const zoomed = readPictureFacts(makeJpeg());
    expect([zoomed.focal35Mm, zoomed.digitalZoom]).toEqual([26, 1.5]);
    expect(usableFocal35(zoomed)).toBeNull();
  });

  test('density tags change nothing', async () => {
    const told = readPictureFacts(file);
    // tags 0x011a and 0x011b: 72 pixels per inch, to 300
    const dense = file.slice();
    for (let k = 0; k + 8 < 400; k++)
      if (dense[k] === 72 && dense[k + 4] === 1 && dense[k + 1] === 0) dense[k] = 44;
    expect(dense).not.toEqual(file);
    expect(readPictureFacts(dense)).toEqual(told);
    expect((await decodePicture(dense, 'a.jpg')).widthPx).toBe(picture.widthPx);
  });

  test.each([null, 0, 24, 28.6])(
    'a start value only: %s mm for 27 moves the phone by no more than 2 mm',
    (focal35Mm) => {
      const { survey } = makeSurvey(11, 'plaster', {
        levels: [800],
        plumbs: [],
        markNoisePx: 0.2,
        standNoiseMm: 2,
        focalRatio: 1,
      });
      const [photo] = survey.photos;
      const place = (focal: number | null) =>
        resectPhoto({ ...photo!, focal35Mm: focal }, { k1: -0.006, sigma: 0.001 }).camera;
      const [told, right] = [place(focal35Mm), place(27)];
      expect(Math.abs(told.position.out - right.position.out)).toBeLessThan(2);
      expect(Math.abs(told.position.up - right.position.up)).toBeLessThan(2);
      expect(Math.abs(told.focalPx / right.focalPx - 1)).toBeLessThan(0.002);
    },
  );
});
