import type { Camera } from '../../src/core/camera/camera.ts';
import { vectorFromRotation, type Rotation, type WallPoint } from '../../src/core/camera/frames.ts';

/** Rotation vector of a camera at `eye` that looks at `target`, its horizon tilted clockwise by `rollRad`. */
export function aimCamera(eye: WallPoint, target: WallPoint, rollRad: number): [number, number, number] {
  const forward = unit(target.along - eye.along, target.up - eye.up, target.out - eye.out);
  // right, level and square to the view, then down
  const level = unit(-forward[2], 0, forward[0]);
  const drop = cross(forward, level);
  const [c, s] = [Math.cos(rollRad), Math.sin(rollRad)];
  const right = level.map((x, i) => c * x - s * drop[i]!);
  const down = level.map((x, i) => s * x + c * drop[i]!);
  // rows in the wall frame, times diag(1, -1, -1): what `cameraFromWallRotation` puts before the turn
  const rows = [right, down, forward].flatMap((row) => [row[0]!, -row[1]!, -row[2]!]);
  return vectorFromRotation(rows as unknown as Rotation);
}

/** A camera at `eye` looking at `target`. */
export function placeCamera(
  eye: WallPoint,
  target: WallPoint,
  rollRad: number,
  optics: Pick<Camera, 'focalPx' | 'k1' | 'widthPx' | 'heightPx'>,
): Camera {
  return { position: eye, rotationRad: aimCamera(eye, target, rollRad), ...optics };
}

type Vector = [number, number, number];

function unit(x: number, y: number, z: number): Vector {
  const length = Math.hypot(x, y, z);
  return [x / length, y / length, z / length];
}

function cross(a: Vector, b: Vector): Vector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}
