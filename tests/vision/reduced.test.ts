import { beforeAll, describe, expect, test } from 'vitest';
import { meanOfTwo, smoothPicture } from '../../src/vision/filteredPicture.ts';
import { lineStrength } from '../../src/core/line/strength.ts';
import type { OpenCv } from '../../src/vision/opencv/types.ts';
import { withMats } from '../../src/vision/opencv/mats.ts';
import { reducePicture, reductionFactor, wholeRegion } from '../../src/vision/reduced.ts';
import type { Picture } from '../../src/vision/picture.ts';
import { colourCores, turnPicture } from '../../src/vision/turned.ts';
import { loadOpenCvInNode } from '../opencvNode.ts';

let cv: OpenCv;
beforeAll(async () => {
  cv = (await loadOpenCvInNode()).cv;
});

const makePicture = (widthPx: number, heightPx: number, red: (u: number, v: number) => number) => {
  const rgba = new Uint8Array(4 * widthPx * heightPx);
  for (let v = 0; v < heightPx; v++)
    for (let u = 0; u < widthPx; u++) rgba.set([red(u, v), 20, 30, 255], 4 * (v * widthPx + u));
  return { widthPx, heightPx, rgba };
};

const reduceWhole = (picture: Picture, factor: number) =>
  reducePicture(picture, factor, wholeRegion(picture, factor));

describe('reducePicture', () => {
  // the reference library: OpenCV's own resize by area
  test.each([1, 2, 3])('every place is the mean of its %i x %i block, as OpenCV makes it', (factor) => {
    const picture = makePicture(803, 402, (u, v) => (7 * u + 13 * v * v) % 256);
    const small = reduceWhole(picture, factor);
    const [widthPx, heightPx] = [Math.floor(803 / factor), Math.floor(402 / factor)];
    expect(small).toMatchObject({ widthPx, heightPx, factor });
    withMats(cv, (keep) => {
      const whole = keep(new cv.Mat(402, 803, cv.CV_8UC4));
      whole.data.set(picture.rgba);
      const cut = keep(whole.roi(new cv.Rect(0, 0, widthPx * factor, heightPx * factor)));
      const byOpenCv = keep(new cv.Mat());
      cv.resize(cut, byOpenCv, new cv.Size(widthPx, heightPx), 0, 0, cv.INTER_AREA);
      const furthest = small.rgba.reduce(
        (most, value, i) => Math.max(most, Math.abs(value - byOpenCv.data[i]!)),
        0,
      );
      expect(furthest).toBeLessThanOrEqual(1);
    });
  });

  test.each([4, 5, 16])('from a factor of 4 on (%i) it is the mean of every second row', (factor) => {
    const picture = makePicture(803, 402, (u, v) => (7 * u + 13 * v * v) % 256);
    const small = reduceWhole(picture, factor);
    for (const [x, y] of [
      [0, 0],
      [3, 2],
      [small.widthPx - 1, small.heightPx - 1],
    ] as const) {
      const block: number[] = [];
      for (let v = y * factor; v < (y + 1) * factor; v += 2)
        for (let u = x * factor; u < (x + 1) * factor; u++) block.push(picture.rgba[4 * (v * 803 + u)]!);
      const mean = block.reduce((a, b) => a + b, 0) / block.length;
      expect(Math.abs(small.rgba[4 * (y * small.widthPx + x)]! - mean)).toBeLessThan(0.6);
    }
  });

  test('a region is that part of the whole', () => {
    const picture = makePicture(320, 200, (u, v) => (3 * u + 5 * v) % 256);
    const whole = reduceWhole(picture, 2);
    const part = reducePicture(picture, 2, { left: 24, top: 16, width: 40, height: 30 });
    for (let y = 0; y < 30; y++) {
      const from = 4 * ((16 + y) * whole.widthPx + 24);
      expect(part.rgba.subarray(160 * y, 160 * (y + 1))).toEqual(whole.rgba.subarray(from, from + 160));
    }
  });

  test('pixels that do not begin at a whole number of words', () => {
    const picture = makePicture(64, 40, (u, v) => (u * v) % 256);
    const shifted = new Uint8Array(picture.rgba.length + 1);
    shifted.set(picture.rgba, 1);
    expect(reduceWhole({ ...picture, rgba: shifted.subarray(1) }, 2)).toEqual(reduceWhole(picture, 2));
  });

  test('the reduction goes with the picture, from 320 x 240 to 108 megapixels', () => {
    const sizes: [number, number, number][] = [
      [320, 240, 1],
      [640, 480, 1],
      [1366, 1013, 2],
      [3000, 4000, 5],
      [4608, 3456, 6],
      [8000, 6000, 10],
      [12000, 9000, 15],
    ];
    for (const [width, height, factor] of sizes) expect(reductionFactor(width, height)).toBe(factor);
  });

  test('too small a picture is refused', () => {
    const narrow = makePicture(31, 400, () => 0);
    expect(() => wholeRegion(narrow, 1)).toThrow('picture_too_small');
  });
});

describe('turnPicture', () => {
  const reduced = { ...makePicture(5, 3, (u, v) => 10 * v + u), factor: 4 };

  test('a level line keeps the picture, a plumb one exchanges rows and columns', () => {
    const level = turnPicture(reduced, 'level');
    expect(level).toMatchObject({ alongPx: 5, acrossPx: 3, factor: 4 });
    expect(level.rgba).toEqual(reduced.rgba);
    const plumb = turnPicture(reduced, 'plumb');
    expect(plumb).toMatchObject({ alongPx: 3, acrossPx: 5 });
    expect(Array.from({ length: 15 }, (_, i) => plumb.rgba[4 * i])).toEqual([
      0, 10, 20, 1, 11, 21, 2, 12, 22, 3, 13, 23, 4, 14, 24,
    ]);
  });

  test('is a copy: what is done to it leaves the reduced picture alone', () => {
    turnPicture(reduced, 'level').rgba.fill(9);
    expect(reduced.rgba[0]).toBe(0);
  });
});

describe('colourCores', () => {
  /** One column, from the top: W white, R strong and r pale red, g grey, 40 columns wide. */
  const paint = (signs: string) => {
    const colours: Record<string, number[]> = {
      W: [255, 250, 252],
      R: [250, 90, 100],
      r: [210, 150, 150],
      g: [140, 140, 140],
    };
    const rgba = Uint8Array.from(
      [...signs].flatMap((sign) =>
        Array<number[]>(40)
          .fill([...colours[sign]!, 255])
          .flat(),
      ),
    );
    const picture = { axis: 'level' as const, alongPx: 40, acrossPx: signs.length, factor: 1, rgba };
    colourCores(picture);
    return Array.from(signs, (_, y) => Array.from(rgba.subarray(160 * y, 160 * y + 3)));
  };

  test('a white core takes the colour of its paler flank at its own brightness', () => {
    const rows = paint('ggggRWWWrgggg');
    for (const y of [5, 6, 7]) expect(rows[y]).toEqual([255, 195, 195]);
    expect(rows[4]).toEqual([250, 90, 100]);
  });

  test('white between grey stays white, and so does a broad white surface with red edges', () => {
    expect(paint('ggggWWWgggg')[5]).toEqual([255, 255, 255]);
    const broad = paint(`ggR${'W'.repeat(20)}Rgg`);
    for (let y = 3; y < 23; y++) expect(broad[y]).toEqual([255, 250, 252]);
  });

  test("at the picture's edge there is no flank to ask", () => {
    expect(paint('WWWRgggg')[1]).toEqual([255, 250, 252]);
  });
});

describe('smoothPicture', () => {
  test('the mean of two packed pixels, channel by channel', () => {
    expect(meanOfTwo(0xff00ff10, 0x01ff0120)).toBe(0x807f8018);
    expect(meanOfTwo(0xffffffff, 0xffffffff)).toBe(0xffffffff);
  });

  test('three sizes, each half as wide along as across, in sixteenths of a level', () => {
    const picture = makePicture(160, 120, () => 60);
    const levels = smoothPicture(turnPicture({ ...picture, factor: 1 }, 'level'));
    expect(levels.map(({ width, height }) => [width, height])).toEqual([
      [80, 120],
      [40, 60],
      [20, 30],
    ]);
    for (const { red, green, blue } of levels) {
      expect(new Set(red)).toEqual(new Set([16 * 60]));
      expect(new Set(green)).toEqual(new Set([16 * 20]));
      expect(new Set(blue)).toEqual(new Set([16 * 30]));
    }
  });

  test('smoothing is (1 2 1) both ways: one bright pixel becomes its nine shares', () => {
    const rgba = new Uint8Array(4 * 64 * 40);
    rgba.set([128, 0, 0, 255], 4 * (20 * 64 + 32));
    const picture = { axis: 'level' as const, alongPx: 64, acrossPx: 40, factor: 1, rgba };
    const [full] = smoothPicture(picture);
    // halved along: 64 at column 16
    const at = (x: number, y: number) => full!.red[y * 32 + x];
    expect([at(16, 20), at(15, 20), at(16, 19), at(17, 21), at(18, 20)]).toEqual([256, 128, 128, 64, 0]);
  });
});

describe('lineStrength', () => {
  // a line drawn by hand: its own colour only, where it is and nowhere else; a slope and a flat ground are none
  test('a red line is strong in red only', () => {
    const picture = makePicture(160, 120, (_, v) =>
      Math.round(60 + 0.5 * v + 100 * Math.exp(-0.5 * ((v - 60.5) / 1.15) ** 2)),
    );
    const { red, green } = lineStrength(smoothPicture(turnPicture({ ...picture, factor: 1 }, 'level')));
    expect([red.width, red.height]).toEqual([80, 60]);
    expect(Math.max(...green.values)).toBe(0);
    for (const x of [5, 40, 75]) {
      const column = Array.from({ length: 60 }, (_, y) => red.values[y * 80 + x]!);
      expect(column.indexOf(Math.max(...column))).toBe(30);
      expect(column[30]).toBeGreaterThan(7);
      expect(Math.max(...column.slice(0, 27), ...column.slice(34))).toBe(0);
    }
  });
});
