import { vectorFromRotation, type WallPoint } from './frames.ts';

/**
 * Rotation vector (rad) of a camera held level at a place that looks at another one (mm).
 * @example aimRotation({ along: 0, up: 0, out: 1000 }, { along: 0, up: 0, out: 0 }) // [0, 0, 0]
 */
export function aimRotation(from: WallPoint, target: WallPoint): [number, number, number] {
  const view = [target.along - from.along, target.up - from.up, target.out - from.out] as const;
  const length = Math.hypot(...view);
  const [x, y, z] = [view[0] / length, view[1] / length, view[2] / length];
  const flat = Math.hypot(x, z);
  const right = [-z / flat, 0, x / flat] as const;
  // forward cross right
  const down = [y * right[2], z * right[0] - x * right[2], -y * right[0]] as const;
  // camera-from-wall = turn * diag(1, -1, -1), frames.ts
  return vectorFromRotation([right[0], -right[1], -right[2], down[0], -down[1], -down[2], x, -y, -z]);
}
