import { cameraFromWall, principalPoint, type Camera } from './camera.ts';
import { liesWithinFold } from './lens.ts';
import { cameraFromWallRotation, type CameraPoint, type Rotation, type WallPoint } from './frames.ts';

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
  readonly byPoint: readonly number[];
  readonly byCamera: readonly number[];
}

/** An image point with its derivatives by the wall point, and what those by the camera are made of. */
interface Sight extends Omit<Projection, 'byCamera'> {
  /** In the camera, mm, and there by row of `byPoint`: px per mm right, down and forward. */
  readonly at: CameraPoint;
  readonly rows: readonly number[];
  /** As a lens without distortion would see it, from the middle of the picture (px); what the lens makes of it; squared radius. */
  readonly plain: readonly [number, number];
  readonly factor: number;
  readonly radius2: number;
}

/** Image of a wall point, and how it moves with the wall point; null behind the camera or beyond the lens's fold. */
export function projectWithPoint(camera: Camera, point: WallPoint): Sight | null {
  const { focalPx, k1, k2 = 0 } = camera;
  const r = cameraFromWallRotation(camera.rotationRad);
  const at = cameraFromWall(camera.position, r, point);
  const { right, down, forward } = at;
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
  const rows = [ux / forward, uy / forward, -(ux * x + uy * y) / forward];
  rows.push(uy / forward, vy / forward, -(uy * x + vy * y) / forward);
  const byPoint: number[] = [];
  for (let row = 0; row < 6; row += 3)
    for (let k = 0; k < 3; k++)
      byPoint.push(rows[row]! * r[k]! + rows[row + 1]! * r[3 + k]! + rows[row + 2]! * r[6 + k]!);
  const plain = [focalPx * x, focalPx * y] as const;
  const [u, v] = [centre.u + factor * plain[0], centre.v + factor * plain[1]];
  return { u, v, byPoint, at, rows, plain, factor, radius2 };
}

/**
 * Image of a wall point with its derivatives; null behind the camera or beyond the lens's fold. The same model as `imageFromWall`; the rotation's
 * part uses the left Jacobian of the rotation vector (Sola 2017, "Quaternion kinematics", eq. 183; from memory).
 */
export function projectPoint(camera: Camera, point: WallPoint): Projection | null {
  const sight = projectWithPoint(camera, point);
  if (!sight) return null;
  const { u, v, byPoint, at, rows, plain, factor, radius2 } = sight;
  const turn = leftJacobian(camera.rotationRad);
  const byCamera: number[] = [];
  for (let row = 0; row < 2; row++) {
    const [pr, pd, pf] = [rows[row * 3]!, rows[row * 3 + 1]!, rows[row * 3 + 2]!];
    for (let k = 0; k < 3; k++) byCamera.push(-byPoint[row * 3 + k]!);
    // a turn w moves the camera point by w x point
    const w0 = pf * at.down - pd * at.forward;
    const w1 = pr * at.forward - pf * at.right;
    const w2 = pd * at.right - pr * at.down;
    for (let k = 0; k < 3; k++) byCamera.push(w0 * turn[k]! + w1 * turn[3 + k]! + w2 * turn[6 + k]!);
    const off = plain[row]!;
    byCamera.push(factor * off, radius2 * off, radius2 * radius2 * off);
  }
  return { u, v, byPoint, byCamera };
}

/** I + (1 - cos a)/a^2 [r]x + (a - sin a)/a^3 [r]x^2, row-major. */
function leftJacobian([x, y, z]: readonly [number, number, number]): Rotation {
  if (x === last.x && y === last.y && z === last.z) return last.jacobian;
  const angle2 = x * x + y * y + z * z;
  const angle = Math.sqrt(angle2);
  const b = angle < 1e-3 ? 0.5 - angle2 / 24 : (1 - Math.cos(angle)) / angle2;
  const c = angle < 1e-3 ? 1 / 6 - angle2 / 120 : (angle - Math.sin(angle)) / (angle2 * angle);
  const jacobian: Rotation = [
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
  last = { x, y, z, jacobian };
  return jacobian;
}

/** The Jacobian asked for last: all points of a line are asked of one camera. */
let last = { x: 0, y: 0, z: 0, jacobian: [1, 0, 0, 0, 1, 0, 0, 0, 1] as Rotation };
