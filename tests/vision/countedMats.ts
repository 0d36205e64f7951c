import type { Mat, MatVector, OpenCv } from '../../src/vision/opencv/types.ts';

/** OpenCV whose every Mat and vector is counted from its making to its deletion. */
export function countMats(original: OpenCv): { cv: OpenCv; made: () => number; alive: () => number } {
  let made = 0;
  let alive: Mat[] = [];
  let vectors = 0;
  const note = (mat: Mat): Mat => {
    made++;
    // what is deleted is forgotten from time to time, so that counting keeps nothing alive
    if (alive.length > 200) alive = alive.filter((each) => !each.isDeleted());
    alive.push(mat);
    const roi = mat.roi.bind(mat);
    mat.roi = (rect) => note(roi(rect));
    return mat;
  };
  const noteVector = (vector: MatVector): MatVector => {
    made++;
    vectors++;
    const [get, remove] = [vector.get.bind(vector), vector.delete.bind(vector)];
    vector.get = (index) => note(get(index));
    vector.delete = () => {
      vectors--;
      remove();
    };
    return vector;
  };
  const counted = Object.create(original) as OpenCv;
  counted.Mat = new Proxy(original.Mat, {
    construct: (mat, values) => note(Reflect.construct(mat, values) as Mat),
  });
  counted.MatVector = new Proxy(original.MatVector, {
    construct: (vector, values) => noteVector(Reflect.construct(vector, values) as MatVector),
  });
  counted.matFromArray = (...values) => note(original.matFromArray(...values));
  return {
    cv: counted,
    made: () => made,
    alive: () => alive.filter((mat) => !mat.isDeleted()).length + vectors,
  };
}
