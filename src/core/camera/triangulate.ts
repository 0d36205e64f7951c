import type { LaserLine } from '../survey.ts';
import { wallFromImageOnSheet, type Camera } from './camera.ts';
import { alongSheet, knownSheet, measureOutPerPx } from './sheet.ts';

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
  const most = line.points.length;
  const s = new Float64Array(most);
  const out = new Float64Array(most);
  const u = new Float64Array(most);
  const v = new Float64Array(most);
  const sigmaPx = new Float64Array(most);
  const outPerPx = new Float64Array(most);
  const index = new Int32Array(most);
  let count = 0;
  for (let k = 0; k < most; k++) {
    const point = line.points[k]!;
    if (point.state === 'off') continue;
    const place = wallFromImageOnSheet(camera, point, sheet);
    const perPx = measureOutPerPx(camera, sheet, place);
    if (!Number.isFinite(perPx)) continue;
    s[count] = alongSheet(sheet, place);
    out[count] = place.out;
    u[count] = point.u;
    v[count] = point.v;
    sigmaPx[count] = point.sigma;
    outPerPx[count] = perPx;
    index[count++] = k;
  }
  return {
    s: s.slice(0, count),
    out: out.slice(0, count),
    u: u.slice(0, count),
    v: v.slice(0, count),
    sigmaPx: sigmaPx.slice(0, count),
    outPerPx: outPerPx.slice(0, count),
    index: index.slice(0, count),
  };
}

/** Whether a triangulated point lies in a stretch marked as having no line. */
export function liesInGap(line: LaserLine, found: Triangulation, k: number): boolean {
  if (line.gaps.length === 0) return false;
  const place = line.sheet.axis === 'level' ? found.u[k]! : found.v[k]!;
  return line.gaps.some(({ from, to }) => place > Math.min(from, to) && place < Math.max(from, to));
}
