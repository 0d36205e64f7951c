import { CRITICAL_W, testObservation } from '../checks/baarda.ts';
import type { Photo } from '../survey.ts';
import { imageFromWall, type Camera } from './camera.ts';
import { evaluateForm } from './dense.ts';
import type { Evidence, PriorRow } from './evidence.ts';
import type { Residuals } from './levenbergMarquardt.ts';

/** One mark after the resection: modelled minus clicked place (px), and the larger of its two |w|. */
export interface MarkResidual {
  readonly uPx: number;
  readonly vPx: number;
  /** Standardised residual (Baarda's w), without sign; 0 where nothing else checks the mark. */
  readonly w: number;
}

/** One measured value after the resection, as a standardised residual. */
export interface PriorResidual {
  readonly name: PriorRow['name'];
  readonly w: number;
}

/**
 * A resection of the marks not left out by hand as one of all the photo's marks: indices are again those of the photo, and what was left
 * out has its distance from where the camera sees it, and no w.
 */
export function restoreMarks<T extends StandardizedResiduals & { readonly camera: Camera }>(
  photo: Photo,
  markOutMm: readonly number[],
  resection: T,
): T {
  if (!photo.marks.some(({ leftOut }) => leftOut)) return resection;
  const kept = photo.marks.flatMap(({ leftOut }, index) => (leftOut ? [] : [index]));
  const markResiduals = photo.marks.map(({ u, v, along, up }, index): MarkResidual => {
    const at = kept.indexOf(index);
    if (at >= 0) return resection.markResiduals[at]!;
    const image = imageFromWall(resection.camera, { along, up, out: markOutMm[index] ?? 0 });
    return { uPx: image.u - u, vPx: image.v - v, w: 0 };
  });
  return { ...resection, markResiduals, suspectMarks: resection.suspectMarks.map((at) => kept[at]!) };
}

export interface StandardizedResiduals {
  readonly markResiduals: readonly MarkResidual[];
  readonly priorResiduals: readonly PriorResidual[];
  readonly suspectMarks: readonly number[];
  readonly markRmsPx: number;
}

/**
 * Residuals of marks and measured values, standardised (Baarda's w; `inverse` = (J^T J)^-1, all in units of the sigmas),
 * and the marks that fail at 3.29, worst first.
 * Source: `testObservation`.
 */
export function standardizeResiduals(
  { photo, priors, markOutMm }: Evidence,
  camera: Camera,
  { values, jacobian }: Residuals,
  inverse: Float64Array,
): StandardizedResiduals {
  const n = Math.round(Math.sqrt(inverse.length));
  const standardize = (row: number): number =>
    testObservation(values[row]!, 1, evaluateForm(inverse, n, jacobian, row * n)).w;
  const markResiduals = photo.marks.map(({ u, v, along, up }, i) => {
    const image = imageFromWall(camera, { along, up, out: markOutMm[i] ?? 0 });
    const w = Math.max(Math.abs(standardize(2 * i)), Math.abs(standardize(2 * i + 1)));
    return { uPx: image.u - u, vPx: image.v - v, w };
  });
  const priorResiduals = priors.map((prior, i) => ({
    name: prior.name,
    w: standardize(2 * photo.marks.length + i),
  }));
  const square = markResiduals.reduce((sum, { uPx, vPx }) => sum + uPx * uPx + vPx * vPx, 0);
  const suspectMarks = markResiduals
    .map((_, i) => i)
    .filter((i) => markResiduals[i]!.w > CRITICAL_W)
    .sort((a, b) => markResiduals[b]!.w - markResiduals[a]!.w);
  return {
    markResiduals,
    priorResiduals,
    suspectMarks,
    markRmsPx: Math.sqrt(square / (2 * markResiduals.length)),
  };
}
