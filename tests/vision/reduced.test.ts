import { beforeAll, describe, expect, test } from 'vitest';
import { filterPicture, gaussianKernel, ridgeKernel } from '../../src/vision/filteredPicture.ts';
import type { OpenCv } from '../../src/vision/opencv/types.ts';
import { withMats } from '../../src/vision/opencv/mats.ts';
import { reducePicture, reductionFactor } from '../../src/vision/reduced.ts';
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

describe('reducePicture', () => {
  // the reference library: OpenCV's own resize by area
  test.each([1, 3, 4, 16])('every place is the mean of its %i x %i block, as OpenCV makes it', (factor) => {
    const picture = makePicture(803, 402, (u, v) => (7 * u + 13 * v * v) % 256);
    const small = reducePicture(picture, factor);
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

  test('pixels that do not begin at a whole number of words', () => {
    const picture = makePicture(64, 40, (u, v) => (u * v) % 256);
    const shifted = new Uint8Array(picture.rgba.length + 1);
    shifted.set(picture.rgba, 1);
    expect(reducePicture({ ...picture, rgba: shifted.subarray(1) }, 2)).toEqual(reducePicture(picture, 2));
  });

  test('the reduction goes with the picture, from 320 x 240 to 108 megapixels', () => {
    const sizes: [number, number, number][] = [
      [320, 240, 1],
      [640, 480, 1],
      [1366, 1013, 1],
      [3000, 4000, 4],
      [4608, 3456, 5],
      [8000, 6000, 8],
      [12000, 9000, 12],
    ];
    for (const [width, height, factor] of sizes) expect(reductionFactor(width, height)).toBe(factor);
  });

  test('too small a picture is refused', () => {
    const narrow = makePicture(31, 400, () => 0);
    expect(() => reducePicture(narrow, 1)).toThrow('picture_too_small');
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

describe('filterPicture', () => {
  test('kernels: sums of one and of nothing, own amplitude for a line of the same width', () => {
    const sum = (taps: number[]) => taps.reduce((a, b) => a + b, 0);
    expect(sum(gaussianKernel(1.3))).toBeCloseTo(1, 12);
    const ridge = ridgeKernel(1.15);
    expect(sum(ridge)).toBeCloseTo(0, 12);
    const reach = (ridge.length - 1) / 2;
    expect(sum(ridge.map((tap, i) => tap * 37 * Math.exp(-0.5 * ((i - reach) / 1.15) ** 2)))).toBeCloseTo(
      37,
      9,
    );
  });

  // The ridge is Steger's: second derivative of Gaussian across the line; here against a line drawn by hand
  test('a red line is a ridge in red only, at every size; a slope and a flat ground are none', () => {
    const picture = makePicture(160, 120, (_, v) =>
      Math.round(60 + 0.5 * v + 100 * Math.exp(-0.5 * ((v - 60.5) / 1.15) ** 2)),
    );
    const levels = filterPicture(cv, turnPicture({ ...picture, factor: 1 }, 'level'));
    expect(levels.map(({ width, height }) => [width, height])).toEqual([
      [160, 120],
      [80, 60],
      [40, 30],
    ]);
    const [full, half] = levels;
    expect(full!.ridge[0][60 * 160 + 80]!).toBeGreaterThan(80);
    expect(full!.ridge[0][60 * 160 + 80]!).toBeLessThan(101);
    expect(half!.ridge[0][30 * 80 + 40]!).toBeGreaterThan(30);
    expect(Math.abs(full!.ridge[0][30 * 160 + 80]!)).toBeLessThan(1);
    expect(Math.abs(full!.ridge[1][60 * 160 + 80]!)).toBeLessThan(1e-3);
    expect(full!.smooth[2][60 * 160 + 80]!).toBeCloseTo(30, 3);
  });
});
