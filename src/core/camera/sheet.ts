import type { LaserLine, LineAxis } from '../survey.ts';
import type { Camera } from './camera.ts';
import type { WallPoint } from './frames.ts';
import { CAMERA_PARAMETERS, projectPoint, projectWithPoint } from './projection.ts';

/** A sheet of light whose place is known: `level` at a height, or `plumb` and square to the wall, at `at` mm. */
export interface KnownSheet {
  readonly axis: LineAxis;
  readonly at: number;
}

/** Place along the line's axis, mm. @example alongSheet({ axis: 'plumb', at: 0 }, { along: 1, up: 2, out: 3 }) // 2 */
export function alongSheet(sheet: { readonly axis: LineAxis }, point: WallPoint): number {
  return sheet.axis === 'level' ? point.along : point.up;
}

/** The wall point at `s` along a sheet and `out` off the reference plane, mm. */
export function pointOnSheet(sheet: KnownSheet, s: number, out: number): WallPoint {
  return sheet.axis === 'level' ? { along: s, up: sheet.at, out } : { along: sheet.at, up: s, out };
}

/** The line's sheet. @throws Error where its height (or place along) was never typed: ask `checkLine` first */
export function knownSheet(line: LaserLine): KnownSheet {
  const { axis, at } = line.sheet;
  if (at === null) throw new Error(`line ${line.id}: expected a sheet with a place, got at = null`);
  return { axis, at };
}

/** How `s` and `out` of a fixed image point change with the camera's nine parameters, and with the image point. */
export interface OffsetDerivative {
  readonly outByCamera: readonly number[];
  readonly sByCamera: readonly number[];
  readonly outPerPx: number;
}

/**
 * Derivatives of the wall point (on its sheet) that a fixed image point stands for, from the projection's own derivatives
 * by the implicit function theorem; null behind the camera or where the ray runs along the sheet.
 */
export function differentiateOffset(
  camera: Camera,
  sheet: KnownSheet,
  place: WallPoint,
): OffsetDerivative | null {
  const image = projectPoint(camera, place);
  if (!image) return null;
  const axis = sheet.axis === 'level' ? 0 : 1;
  const su = image.byPoint[axis]!;
  const sv = image.byPoint[3 + axis]!;
  const ou = image.byPoint[2]!;
  const ov = image.byPoint[5]!;
  const det = su * ov - sv * ou;
  if (det === 0) return null;
  const outByCamera: number[] = [];
  const sByCamera: number[] = [];
  for (let k = 0; k < CAMERA_PARAMETERS; k++) {
    const u = image.byCamera[k]!;
    const v = image.byCamera[CAMERA_PARAMETERS + k]!;
    outByCamera.push((sv * u - su * v) / det);
    sByCamera.push((ou * v - ov * u) / det);
  }
  return { outByCamera, sByCamera, outPerPx: Math.hypot(su, sv) / Math.abs(det) };
}

/** `outPerPx` of `differentiateOffset` alone; NaN where that is null. */
export function measureOutPerPx(camera: Camera, sheet: KnownSheet, place: WallPoint): number {
  const image = projectWithPoint(camera, place);
  if (!image) return NaN;
  const axis = sheet.axis === 'level' ? 0 : 1;
  const su = image.byPoint[axis]!;
  const sv = image.byPoint[3 + axis]!;
  return Math.hypot(su, sv) / Math.abs(su * image.byPoint[5]! - sv * image.byPoint[2]!);
}
