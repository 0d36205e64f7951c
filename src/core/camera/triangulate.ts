import type { LaserLine, Photo } from '../survey.ts';
import { wallFromImageOnSheet, type Camera } from './camera.ts';
import { CAMERA_PARAMETERS } from './projection.ts';
import { resectAt, resectPhoto, type LensPrior, type ResectContext } from './resect.ts';
import { alongSheet, differentiateOffset, knownSheet, pointOnSheet } from './sheet.ts';

/**
 * One photographed line cut with its sheet, point by point in the line's order: `s` along the line's axis and `out` (mm),
 * `u`, `v` where seen (px), `sigmaPx` across the line, `outPerPx` mm of `out` per px across the line (positive), and
 * `index` of the point in `line.points`.
 */
export interface Triangulation {
  readonly s: Float64Array;
  readonly out: Float64Array;
  readonly u: Float64Array;
  readonly v: Float64Array;
  readonly sigmaPx: Float64Array;
  readonly outPerPx: Float64Array;
  readonly index: Int32Array;
}

/**
 * Wall offsets of a photographed line: every ray cut with the light sheet. Points switched off, and rays that do not meet
 * the sheet, are left out.
 * Source: DEVELOPERS.md "Frames"; sigma of a point in mm is sigmaPx * outPerPx.
 */
export function triangulateLine(camera: Camera, line: LaserLine): Triangulation {
  const sheet = knownSheet(line);
  const kept: { s: number; out: number; outPerPx: number; index: number }[] = [];
  line.points.forEach((point, index) => {
    if (point.state === 'off') return;
    const place = wallFromImageOnSheet(camera, point, sheet);
    const by = differentiateOffset(camera, sheet, place);
    if (by && Number.isFinite(by.outPerPx))
      kept.push({ s: alongSheet(sheet, place), out: place.out, outPerPx: by.outPerPx, index });
  });
  const pick = (value: (item: (typeof kept)[number]) => number) => Float64Array.from(kept, value);
  return {
    s: pick((item) => item.s),
    out: pick((item) => item.out),
    u: pick((item) => line.points[item.index]!.u),
    v: pick((item) => line.points[item.index]!.v),
    sigmaPx: pick((item) => line.points[item.index]!.sigma),
    outPerPx: pick((item) => item.outPerPx),
    index: Int32Array.from(kept, (item) => item.index),
  };
}

/** Derivatives of `out` by the camera's parameters for every point of a triangulation, row-major (points x 8). */
export function offsetsByCamera(camera: Camera, line: LaserLine, found: Triangulation): Float64Array {
  const sheet = knownSheet(line);
  const rows = new Float64Array(found.s.length * CAMERA_PARAMETERS);
  found.s.forEach((s, i) => {
    const by = differentiateOffset(camera, sheet, pointOnSheet(sheet, s, found.out[i]!));
    if (by) rows.set(by.outByCamera, i * CAMERA_PARAMETERS);
  });
  return rows;
}

/** Half the step of the difference by k1: large against rounding, small against a lens's own k1. */
const K1_STEP = 0.001;

/**
 * J_k1: change of `out` (mm) per unit of k1 at every point of `triangulateLine`, when the photograph is resected again
 * with k1 held (METHOD: the joint solution's lens unknown), by central differences. Aligned with `triangulateLine` of the
 * camera that `resectPhoto` returns for the same photo, lens and context.
 * Source: DEVELOPERS.md "One photograph".
 */
export function offsetByK1(
  photo: Photo,
  lens: LensPrior,
  line: LaserLine,
  context: ResectContext = {},
): Float64Array {
  const { camera } = resectPhoto(photo, lens, context);
  const sheet = knownSheet(line);
  const { index } = triangulateLine(camera, line);
  const below = resectAt(photo, camera, camera.k1 - K1_STEP, context);
  const above = resectAt(photo, camera, camera.k1 + K1_STEP, context);
  return Float64Array.from(index, (at) => {
    const point = line.points[at]!;
    const low = wallFromImageOnSheet(below, point, sheet).out;
    const high = wallFromImageOnSheet(above, point, sheet).out;
    return (high - low) / (2 * K1_STEP);
  });
}
