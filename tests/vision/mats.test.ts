import { beforeAll, describe, expect, test } from 'vitest';
import { findLines } from '../../src/vision/findLines.ts';
import { withMats } from '../../src/vision/opencv/mats.ts';
import type { OpenCv } from '../../src/vision/opencv/types.ts';
import { loadOpenCvInNode } from '../opencvNode.ts';
import { countMats } from './countedMats.ts';
import { drawPicture } from './drawn.ts';

let cv: OpenCv;
beforeAll(async () => {
  cv = (await loadOpenCvInNode()).cv;
});

describe('Mats are never collected', () => {
  test('thirty pictures in a row leave none alive, and the heap as it was', () => {
    const counted = countMats(cv);
    const heapBytes = cv.HEAPU8.length;
    for (let i = 0; i < 30; i++) {
      const [widthPx, heightPx] = [200 + 16 * i, 150 + 11 * i];
      findLines(drawPicture({ widthPx, heightPx, course: (u) => 70 + 0.02 * u }));
      expect(counted.alive()).toBe(0);
    }
    expect(cv.HEAPU8.length).toBe(heapBytes);
  });

  test('work with many of them leaves none alive', () => {
    const counted = countMats(cv);
    for (let i = 0; i < 30; i++)
      withMats(counted.cv, (keep) => {
        const source = keep(counted.cv.matFromArray(8, 8, cv.CV_8UC1, Array<number>(64).fill(i)));
        const part = keep(source.roi({ x: 1, y: 1, width: 4, height: 4 }));
        cv.resize(part, keep(new counted.cv.Mat()), new cv.Size(2, 2));
      });
    expect(counted.made()).toBe(90);
    expect(counted.alive()).toBe(0);
  });

  test('OpenCV that stops half-way leaves none alive, and an Error', () => {
    const counted = countMats(cv);
    const wrong = () =>
      withMats(counted.cv, (keep) => {
        const empty = keep(new counted.cv.Mat());
        cv.resize(empty, keep(new counted.cv.Mat()), new cv.Size(3, 3));
      });
    expect(wrong).toThrow(/OpenCV/);
    expect(counted.made()).toBe(2);
    expect(counted.alive()).toBe(0);
  });
});

test('The module must not be returned bare: it is no thenable, and comes in an object', () => {
  expect('then' in cv).toBe(false);
});

test('Allocation failure: an Error, nothing left alive, and OpenCV goes on working', async () => {
  const own = (await loadOpenCvInNode()).cv;
  const counted = countMats(own);
  // the heap ends at 1 GiB; none of these 12-megapixel Mats is written to
  const tooMany = () =>
    withMats(counted.cv, (keep) => {
      for (let n = 0; n < 40; n++) keep(new counted.cv.Mat(3000, 4000, own.CV_32FC1));
    });
  expect(tooMany).toThrow(/OpenCV.*allocate/i);
  expect(counted.made()).toBeGreaterThan(10);
  expect(counted.alive()).toBe(0);
  expect(() => withMats(own, (keep) => keep(new own.Mat(3000, 4000, own.CV_32FC1)))).not.toThrow();
});
