import {
  cameraFromWallRotation,
  type CameraPoint,
  type ImagePoint,
  type Rotation,
  type WallPoint,
} from './frames.ts';
import { distortionFactor, liesWithinFold, undistortRadius } from './lens.ts';

/**
 * A camera at a place: position on the wall frame (mm), rotation vector (rad), focal length and picture size (px), radial terms k1 and
 * k2 (missing = 0).
 */
export interface Camera {
  readonly position: WallPoint;
  readonly rotationRad: readonly [number, number, number];
  readonly focalPx: number;
  readonly k1: number;
  readonly k2?: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Where the optical axis meets the picture: its middle, pixel centres at whole numbers. */
export function principalPoint(camera: { widthPx: number; heightPx: number }): ImagePoint {
  return { u: (camera.widthPx - 1) / 2, v: (camera.heightPx - 1) / 2 };
}

/** A wall point in the camera frame (mm), for a rotation already made by `cameraFromWallRotation`. */
export function cameraFromWall(position: WallPoint, rotation: Rotation, point: WallPoint): CameraPoint {
  const x = point.along - position.along;
  const y = point.up - position.up;
  const z = point.out - position.out;
  return {
    right: rotation[0] * x + rotation[1] * y + rotation[2] * z,
    down: rotation[3] * x + rotation[4] * y + rotation[5] * z,
    forward: rotation[6] * x + rotation[7] * y + rotation[8] * z,
  };
}

/**
 * Image point (px) of a wall point (mm); NaN for points behind the camera or beyond the lens's fold.
 * Source: pinhole with Brown's radial terms, DEVELOPERS.md "Frames".
 */
export function imageFromWall(camera: Camera, point: WallPoint): ImagePoint {
  const p = cameraFromWall(camera.position, cameraFromWallRotation(camera.rotationRad), point);
  if (p.forward <= 0) return { u: NaN, v: NaN };
  const x = p.right / p.forward;
  const y = p.down / p.forward;
  const radius = Math.hypot(x, y);
  if (!liesWithinFold(radius, camera.k1, camera.k2)) return { u: NaN, v: NaN };
  const factor = camera.focalPx * distortionFactor(radius, camera.k1, camera.k2);
  const centre = principalPoint(camera);
  return { u: centre.u + factor * x, v: centre.v + factor * y };
}

/** Direction (wall frame, not normalised, mm per mm of forward) of the ray through an image point (px). */
export function rayFromImage(camera: Camera, point: ImagePoint): WallPoint {
  const centre = principalPoint(camera);
  const xd = (point.u - centre.u) / camera.focalPx;
  const yd = (point.v - centre.v) / camera.focalPx;
  const rd = Math.hypot(xd, yd);
  const scale = rd === 0 ? 1 : undistortRadius(rd, camera.k1, camera.k2) / rd;
  const x = xd * scale;
  const y = yd * scale;
  const r = cameraFromWallRotation(camera.rotationRad);
  return {
    along: r[0] * x + r[3] * y + r[6],
    up: r[1] * x + r[4] * y + r[7],
    out: r[2] * x + r[5] * y + r[8],
  };
}

/**
 * Where the ray through an image point meets the laser's sheet (`level`: up = at; `plumb`: along = at), mm.
 * NaN coordinates where the ray runs along the sheet or away from it.
 */
export function wallFromImageOnSheet(
  camera: Camera,
  point: ImagePoint,
  sheet: { readonly axis: 'level' | 'plumb'; readonly at: number },
): WallPoint {
  return cutSheet(camera.position, rayFromImage(camera, point), sheet);
}

/** Where a ray from a place (both on the wall frame) meets the laser's sheet, mm; NaN as `wallFromImageOnSheet`. */
export function cutSheet(
  position: WallPoint,
  ray: WallPoint,
  sheet: { readonly axis: 'level' | 'plumb'; readonly at: number },
): WallPoint {
  const t =
    sheet.axis === 'level' ? (sheet.at - position.up) / ray.up : (sheet.at - position.along) / ray.along;
  if (!(t > 0)) return { along: NaN, up: NaN, out: NaN };
  return {
    along: position.along + t * ray.along,
    up: position.up + t * ray.up,
    out: position.out + t * ray.out,
  };
}

/** Where the ray through an image point meets the plane out = `outMm`, mm. */
export function wallFromImageOnPlane(camera: Camera, point: ImagePoint, outMm = 0): WallPoint {
  const ray = rayFromImage(camera, point);
  const t = (outMm - camera.position.out) / ray.out;
  if (!(t > 0)) return { along: NaN, up: NaN, out: NaN };
  return { along: camera.position.along + t * ray.along, up: camera.position.up + t * ray.up, out: outMm };
}
