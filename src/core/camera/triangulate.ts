import type { LaserLine } from '../survey.ts';
import { wallFromImageOnSheet, type Camera } from './camera.ts';
import { alongSheet, differentiateOffset, knownSheet } from './sheet.ts';

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

/** Whether a triangulated point lies in a stretch marked as having no line. */
export function liesInGap(line: LaserLine, found: Triangulation, k: number): boolean {
  if (line.gaps.length === 0) return false;
  const place = line.sheet.axis === 'level' ? found.u[k]! : found.v[k]!;
  return line.gaps.some(({ from, to }) => place > Math.min(from, to) && place < Math.max(from, to));
}
