import { opencvError } from './start.ts';
import type { Mat, OpenCv } from './types.ts';

/**
 * Runs one piece of work with OpenCV and deletes every Mat it made, whatever happens: `keep` each one as it
 * is made. C++ exceptions (bare numbers) leave as Errors. Mats are never collected by themselves
 * (DEVELOPERS.md "OpenCV").
 */
export function withMats<T>(cv: OpenCv, work: (keep: <M extends Mat>(mat: M) => M) => T): T {
  const kept: Mat[] = [];
  try {
    return work((mat) => {
      kept.push(mat);
      return mat;
    });
  } catch (thrown) {
    throw opencvError(cv, thrown);
  } finally {
    for (const mat of kept) if (!mat.isDeleted()) mat.delete();
  }
}
