import { beforeAll, describe, expect, test } from 'vitest';
import { findLines } from '../../src/vision/findLines.ts';
import { withMats } from '../../src/vision/opencv/mats.ts';
import type { Mat, MatVector, OpenCv } from '../../src/vision/opencv/types.ts';
import { loadOpenCvInNode } from '../opencvNode.ts';
import { drawPicture } from './drawn.ts';

let cv: OpenCv;
beforeAll(async () => {
  cv = (await loadOpenCvInNode()).cv;
});

/** OpenCV whose every Mat and vector is counted from its making to its deletion. */
function countMats(original: OpenCv): { cv: OpenCv; made: () => number; alive: () => number } {
  const mats: Mat[] = [];
  let vectors = 0;
  let deleted = 0;
  const note = (mat: Mat): Mat => {
    mats.push(mat);
    return mat;
  };
  const noteVector = (vector: MatVector): MatVector => {
    vectors++;
    const [get, remove] = [vector.get.bind(vector), vector.delete.bind(vector)];
    vector.get = (index) => note(get(index));
    vector.delete = () => {
      deleted++;
      remove();
    };
    return vector;
  };
  const counted = Object.create(original) as OpenCv;
  counted.Mat = new Proxy(original.Mat, {
    construct: (mat, values) => {
      const made = note(Reflect.construct(mat, values) as Mat);
      const roi = made.roi.bind(made);
      made.roi = (rect) => note(roi(rect));
      return made;
    },
  });
  counted.MatVector = new Proxy(original.MatVector, {
    construct: (vector, values) => noteVector(Reflect.construct(vector, values) as MatVector),
  });
  counted.matFromArray = (...values) => note(original.matFromArray(...values));
  return {
    cv: counted,
    made: () => mats.length + vectors,
    alive: () => mats.filter((mat) => !mat.isDeleted()).length + vectors - deleted,
  };
}

describe('Mats', () => {
  test('ten pictures in a row leave none alive', () => {
    const counted = countMats(cv);
    for (let i = 0; i < 10; i++) {
      const [widthPx, heightPx] = [200 + 40 * i, 150 + 31 * i];
      findLines(counted.cv, drawPicture({ widthPx, heightPx, course: (u) => 70 + 0.02 * u }));
      expect(counted.alive()).toBe(0);
    }
    expect(counted.made()).toBeGreaterThan(200);
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

  test('what is left of the heap does not shrink with the pictures', () => {
    const picture = drawPicture({ widthPx: 640, heightPx: 480, course: (u) => 200 + 0.02 * u });
    findLines(cv, picture);
    const heapBytes = cv.HEAPU8.length;
    for (let i = 0; i < 3; i++) findLines(cv, picture);
    expect(cv.HEAPU8.length).toBe(heapBytes);
  });
});
