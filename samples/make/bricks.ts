import { rampBetween, type Noise } from './noise.ts';
import { hashUnit } from './random.ts';

/** Stretcher bond of the usual metric brick: 215 x 65 mm and joints of 10 mm (common sizes, from memory). */
const COURSE_MM = 75;
const BRICK_MM = 225;
const JOINT_MM = 10;
/** Where the first bed joint begins below the floor. */
const FIRST_MM = 50;

/** Where a place lies in the bond. One object is filled again and again: millions are asked for. */
export interface BrickSpot {
  course: number;
  brick: number;
  /** 0 in the joint, 1 on the brick's face. */
  face: number;
  /** Distance from the nearest edge of the face (mm), positive on the face. */
  insideMm: number;
}

/** Fills `spot` for a place on the wall (mm); hand-laid: courses wander by a few mm. */
export function locateBrick(noise: Noise, along: number, up: number, spot: BrickSpot): void {
  const y = up + FIRST_MM + 2.5 * noise(along / 420, up / 300) + 0.9 * noise(along / 37, up / 45);
  const course = Math.floor(y / COURSE_MM);
  const x =
    along +
    (course & 1) * (BRICK_MM / 2) +
    7 * noise(course * 1.7, 0.5) +
    1.0 * noise(along / 40 + 9, up / 33);
  const brick = Math.floor(x / BRICK_MM);
  const fromBed = y - course * COURSE_MM;
  const fromPerp = x - brick * BRICK_MM;
  const vertical = Math.min(fromBed - JOINT_MM, COURSE_MM - fromBed);
  const horizontal = Math.min(fromPerp - JOINT_MM, BRICK_MM - fromPerp);
  spot.course = course;
  spot.brick = brick;
  spot.insideMm = Math.min(vertical, horizontal);
  spot.face = rampBetween(-1.5, 2.5, spot.insideMm);
}

/** Offset of a place in the bond from the mean brick face (mm): each brick its own, joints recessed 2 to 4 mm. */
export function reliefOfBrick(
  seed: number,
  noise: Noise,
  along: number,
  up: number,
  spot: BrickSpot,
): number {
  const own =
    1.6 * (hashUnit(seed, spot.course, spot.brick) + hashUnit(seed + 1, spot.course, spot.brick) - 1);
  const grain = 0.25 * noise(along / 14, up / 14);
  const recess = 3 + noise(along / 160, up / 120);
  return own + grain - (1 - spot.face) * (recess + own);
}
