/**
 * The three frames (DEVELOPERS.md, "Frames"). Transforms are named target-from-source.
 */

/** px of the upright picture: u right, v down, pixel centres at whole numbers. */
export interface ImagePoint {
  readonly u: number;
  readonly v: number;
}

/** mm in the camera: right, down, forward along the view. */
export interface CameraPoint {
  readonly right: number;
  readonly down: number;
  readonly forward: number;
}

/** mm on the wall: along right from the left end, up from the floor, out towards the room from the laser's plane. */
export interface WallPoint {
  readonly along: number;
  readonly up: number;
  readonly out: number;
}

/** Row-major 3 x 3 rotation. */
export type Rotation = readonly [number, number, number, number, number, number, number, number, number];

/**
 * Rotation matrix of a rotation vector (direction = axis, length = angle in rad), Rodrigues' formula.
 * @example rotationFromVector([0, 0, 0]) // [1, 0, 0, 0, 1, 0, 0, 0, 1]
 */
export function rotationFromVector(vectorRad: readonly [number, number, number]): Rotation {
  const [x, y, z] = vectorRad;
  const angle2 = x * x + y * y + z * z;
  const angle = Math.sqrt(angle2);
  // series near zero keep full precision where sin(a)/a and (1 - cos a)/a^2 would divide by nothing
  const a = angle < 1e-4 ? 1 - angle2 / 6 : Math.sin(angle) / angle;
  const b = angle < 1e-4 ? 0.5 - angle2 / 24 : (1 - Math.cos(angle)) / angle2;
  return [
    1 - b * (y * y + z * z),
    b * x * y - a * z,
    b * x * z + a * y,
    b * x * y + a * z,
    1 - b * (x * x + z * z),
    b * y * z - a * x,
    b * x * z - a * y,
    b * y * z + a * x,
    1 - b * (x * x + y * y),
  ];
}

/**
 * Rotation vector of a rotation matrix that turns by less than half a turn, the inverse of `rotationFromVector`.
 * @example vectorFromRotation(rotationFromVector([0.1, -0.4, 0.2])) // [0.1, -0.4, 0.2]
 */
export function vectorFromRotation(rotation: Rotation): [number, number, number] {
  const x = (rotation[7] - rotation[5]) / 2;
  const y = (rotation[2] - rotation[6]) / 2;
  const z = (rotation[3] - rotation[1]) / 2;
  const sine = Math.hypot(x, y, z);
  const angle = Math.atan2(sine, (rotation[0] + rotation[4] + rotation[8] - 1) / 2);
  const factor = sine < 1e-9 ? 1 : angle / sine;
  return [x * factor, y * factor, z * factor];
}

/**
 * Camera-from-wall rotation: the rotation vector turns the camera away from facing the wall squarely, where
 * right = along, down = -up and forward = -out.
 * @example cameraFromWallRotation([0, 0, 0]) // [1, 0, 0, 0, -1, 0, 0, 0, -1]
 */
export function cameraFromWallRotation(vectorRad: readonly [number, number, number]): Rotation {
  const [x, y, z] = vectorRad;
  if (x === last.x && y === last.y && z === last.z) return last.rotation;
  const r = rotationFromVector(vectorRad);
  // times diag(1, -1, -1); `|| 0` drops the sign of zero
  const [a, b, c, d, e, f, g, h, i] = r;
  const rotation: Rotation = [a, -b || 0, -c || 0, d, -e || 0, -f || 0, g, -h || 0, -i || 0];
  last = { x, y, z, rotation };
  return rotation;
}

/** The rotation asked for last: all points of a line are asked of one camera. */
let last = { x: 0, y: 0, z: 0, rotation: [1, 0, 0, 0, -1, 0, 0, 0, -1] as Rotation };
