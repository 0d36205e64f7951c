import { principalPoint, type Camera } from './camera.ts';
import { liesWithinFold } from './lens.ts';
import { cameraFromWallRotation, type Rotation, type WallPoint } from './frames.ts';

/**
 * The camera's nine parameters, the order of every covariance and derivative:
 * along, up, out (mm), rotation vector (rad, 3), natural logarithm of the focal length in px, k1, k2.
 */
export const CAMERA_PARAMETERS = 9;
export const FOCAL_PARAMETER = 6;
export const K1_PARAMETER = 7;
export const K2_PARAMETER = 8;

/** A camera as the vector of its nine parameters. */
export function packCamera(camera: Camera): Float64Array {
  const { position, rotationRad, focalPx, k1, k2 = 0 } = camera;
  return Float64Array.of(
    position.along,
    position.up,
    position.out,
    ...rotationRad,
    Math.log(focalPx),
    k1,
    k2,
  );
}

/** The camera of nine parameters and a picture size (px). */
export function unpackCamera(
  parameters: ArrayLike<number>,
  picture: { readonly widthPx: number; readonly heightPx: number },
): Camera {
  return {
    position: { along: parameters[0]!, up: parameters[1]!, out: parameters[2]! },
    rotationRad: [parameters[3]!, parameters[4]!, parameters[5]!],
    focalPx: Math.exp(parameters[FOCAL_PARAMETER]!),
    k1: parameters[K1_PARAMETER]!,
    k2: parameters[K2_PARAMETER]!,
    widthPx: picture.widthPx,
    heightPx: picture.heightPx,
  };
}

/** An image point (px) with its derivatives: by the wall point (2 x 3, px/mm) and by the camera (2 x 9), row-major. */
export interface Projection {
  readonly u: number;
  readonly v: number;
  readonly byPoint: Float64Array;
  readonly byCamera: Float64Array;
}

/**
 * Image of a wall point with its derivatives; null behind the camera or beyond the lens's fold. The same model as `imageFromWall`; the rotation's
 * part uses the left Jacobian of the rotation vector (Sola 2017, "Quaternion kinematics", eq. 183; from memory).
 */
export function projectPoint(camera: Camera, point: WallPoint): Projection | null {
  const { position, focalPx, k1, k2 = 0 } = camera;
  const r = cameraFromWallRotation(camera.rotationRad);
  const a = point.along - position.along;
  const b = point.up - position.up;
  const c = point.out - position.out;
  const right = r[0] * a + r[1] * b + r[2] * c;
  const down = r[3] * a + r[4] * b + r[5] * c;
  const forward = r[6] * a + r[7] * b + r[8] * c;
  if (!(forward > 0)) return null;
  const x = right / forward;
  const y = down / forward;
  const radius2 = x * x + y * y;
  if (!liesWithinFold(Math.sqrt(radius2), k1, k2)) return null;
  const factor = 1 + radius2 * (k1 + k2 * radius2);
  // twice the factor's derivative by the squared radius
  const bend = 2 * (k1 + 2 * k2 * radius2);
  const centre = principalPoint(camera);
  // image by normalised point
  const ux = focalPx * (factor + bend * x * x);
  const uy = focalPx * bend * x * y;
  const vy = focalPx * (factor + bend * y * y);
  // image by camera point
  const byRight = [ux / forward, uy / forward];
  const byDown = [uy / forward, vy / forward];
  const byForward = [-(ux * x + uy * y) / forward, -(uy * x + vy * y) / forward];
  const turn = leftJacobian(camera.rotationRad);
  const byPoint = new Float64Array(6);
  const byCamera = new Float64Array(2 * CAMERA_PARAMETERS);
  for (let row = 0; row < 2; row++) {
    const pr = byRight[row]!;
    const pd = byDown[row]!;
    const pf = byForward[row]!;
    for (let k = 0; k < 3; k++) {
      byPoint[row * 3 + k] = pr * r[k]! + pd * r[3 + k]! + pf * r[6 + k]!;
      byCamera[row * CAMERA_PARAMETERS + k] = -byPoint[row * 3 + k]!;
    }
    // a turn w moves the camera point by w x point
    const w0 = pf * down - pd * forward;
    const w1 = pr * forward - pf * right;
    const w2 = pd * right - pr * down;
    for (let k = 0; k < 3; k++)
      byCamera[row * CAMERA_PARAMETERS + 3 + k] = w0 * turn[k]! + w1 * turn[3 + k]! + w2 * turn[6 + k]!;
  }
  const image = [focalPx * x, focalPx * y];
  for (let row = 0; row < 2; row++) {
    const first = row * CAMERA_PARAMETERS;
    byCamera[first + FOCAL_PARAMETER] = factor * image[row]!;
    byCamera[first + K1_PARAMETER] = radius2 * image[row]!;
    byCamera[first + K2_PARAMETER] = radius2 * radius2 * image[row]!;
  }
  return { u: centre.u + factor * image[0]!, v: centre.v + factor * image[1]!, byPoint, byCamera };
}

/** I + (1 - cos a)/a^2 [r]x + (a - sin a)/a^3 [r]x^2, row-major. */
function leftJacobian(vectorRad: readonly [number, number, number]): Rotation {
  const [x, y, z] = vectorRad;
  const angle2 = x * x + y * y + z * z;
  const angle = Math.sqrt(angle2);
  const b = angle < 1e-3 ? 0.5 - angle2 / 24 : (1 - Math.cos(angle)) / angle2;
  const c = angle < 1e-3 ? 1 / 6 - angle2 / 120 : (angle - Math.sin(angle)) / (angle2 * angle);
  return [
    1 - c * (y * y + z * z),
    c * x * y - b * z,
    c * x * z + b * y,
    c * x * y + b * z,
    1 - c * (x * x + z * z),
    c * y * z - b * x,
    c * x * z - b * y,
    c * y * z + b * x,
    1 - c * (x * x + y * y),
  ];
}
