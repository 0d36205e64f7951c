import { wallFromImageOnPlane, type Camera } from '../camera/camera.ts';
import { evaluateForm } from '../camera/dense.ts';
import type { ImagePoint, WallPoint } from '../camera/frames.ts';
import { CAMERA_PARAMETERS, projectPoint } from '../camera/projection.ts';

/** A distance on the wall between two places of a photograph (mm), its level and plumb parts, and its sigma. */
export interface WallDistance {
  readonly from: WallPoint;
  readonly to: WallPoint;
  readonly distanceMm: number;
  /** To the right positive. */
  readonly levelMm: number;
  /** Upwards positive. */
  readonly plumbMm: number;
  readonly sigmaMm: number;
}

/** How well the two places are known. */
export interface PlaceSpread {
  /** Sigma of each place in the picture, each of u and v (px). */
  readonly tapPx: number;
  /** Sigma of the wall's offset from the plane under each place (mm). */
  readonly outMm: number;
}

/** A place tapped with the magnifier's help (common practice, no source); the wall taken as flat. */
const USUAL_SPREAD: PlaceSpread = { tapPx: 1, outMm: 0 };

/**
 * The distance between two image points, both on the plane out = `outMm`, seen by a resected camera whose 8 x 8 covariance is
 * in the order of projection.ts; null where a point does not lie on that plane in front of the camera.
 * Source: propagation of variances through the inverse of the projection (implicit function theorem).
 */
export function measureDistance(
  { camera, covariance }: { readonly camera: Camera; readonly covariance: Float64Array },
  from: ImagePoint,
  to: ImagePoint,
  outMm: number,
  spread: PlaceSpread = USUAL_SPREAD,
): WallDistance | null {
  const first = differentiatePlace(camera, from, outMm);
  const last = differentiatePlace(camera, to, outMm);
  if (!first || !last) return null;
  const levelMm = last.place.along - first.place.along;
  const plumbMm = last.place.up - first.place.up;
  const distanceMm = Math.hypot(levelMm, plumbMm);
  const [x, y] = distanceMm > 0 ? [levelMm / distanceMm, plumbMm / distanceMm] : [1, 0];
  const byCamera = first.byCamera.map((value, k) => {
    const row = k < CAMERA_PARAMETERS ? x : y;
    return row * (last.byCamera[k]! - value);
  });
  const gradient = Float64Array.from(
    { length: CAMERA_PARAMETERS },
    (_, k) => byCamera[k]! + byCamera[CAMERA_PARAMETERS + k]!,
  );
  let variance = evaluateForm(covariance, CAMERA_PARAMETERS, gradient);
  for (const { byImage, byOut } of [first, last]) {
    const byU = x * byImage[0]! + y * byImage[2]!;
    const byV = x * byImage[1]! + y * byImage[3]!;
    variance += spread.tapPx ** 2 * (byU * byU + byV * byV);
    variance += (spread.outMm * (x * byOut[0]! + y * byOut[1]!)) ** 2;
  }
  return {
    from: first.place,
    to: last.place,
    distanceMm,
    levelMm,
    plumbMm,
    sigmaMm: Math.sqrt(Math.max(0, variance)),
  };
}

/** A place on the plane with the derivatives of its along and up: by camera (2 x 8), image point (2 x 2), offset (2). */
interface PlaceDerivative {
  readonly place: WallPoint;
  readonly byCamera: Float64Array;
  readonly byImage: readonly number[];
  readonly byOut: readonly number[];
}

function differentiatePlace(camera: Camera, at: ImagePoint, outMm: number): PlaceDerivative | null {
  const place = wallFromImageOnPlane(camera, at, outMm);
  const image = Number.isFinite(place.along) ? projectPoint(camera, place) : null;
  if (!image) return null;
  const { byPoint } = image;
  const [ua, uu, uo, va, vu, vo] = byPoint as unknown as [number, number, number, number, number, number];
  const det = ua * vu - uu * va;
  if (det === 0) return null;
  const byImage = [vu / det, -uu / det, -va / det, ua / det];
  const turn = (u: number, v: number, row: number) => -(byImage[2 * row]! * u + byImage[2 * row + 1]! * v);
  const byCamera = new Float64Array(2 * CAMERA_PARAMETERS);
  for (let row = 0; row < 2; row++)
    for (let k = 0; k < CAMERA_PARAMETERS; k++)
      byCamera[row * CAMERA_PARAMETERS + k] = turn(
        image.byCamera[k]!,
        image.byCamera[CAMERA_PARAMETERS + k]!,
        row,
      );
  return { place, byCamera, byImage, byOut: [turn(uo, vo, 0), turn(uo, vo, 1)] };
}
