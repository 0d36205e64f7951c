import type { WallPoint } from '../../src/core/camera/frames.ts';
import type { Laser } from './laser.ts';
import type { Seen } from './seen.ts';
import type { Colour } from './texture.ts';

/** A plumb pipe in front of the wall: its axis at `along` and `out` of the wall's frame (mm), lit like anything else. */
export interface Pipe {
  readonly along: number;
  readonly out: number;
  readonly radiusMm: number;
  readonly colour: Colour;
}

/**
 * Share of the way from one point to another at which a pipe is first met, looked at from above; Infinity if it
 * is not met on the way.
 */
export function meetPipe(pipe: Pipe, from: WallPoint, to: Pick<WallPoint, 'along' | 'out'>): number {
  const [x, z] = [to.along - from.along, to.out - from.out];
  const [px, pz] = [from.along - pipe.along, from.out - pipe.out];
  const a = x * x + z * z;
  const half = px * x + pz * z;
  const root = half * half - a * (px * px + pz * pz - pipe.radiusMm * pipe.radiusMm);
  if (root < 0) return Infinity;
  const share = (-half - Math.sqrt(root)) / a;
  return share > 0 && share < 1 ? share : Infinity;
}

/** What the ray from `eye` through a place meets first of all pipes, into `seen`; whether it meets one. */
export function seePipe(
  pipes: readonly Pipe[],
  eye: WallPoint,
  along: number,
  up: number,
  out: number,
  seen: Seen,
): boolean {
  let nearest = Infinity;
  for (const pipe of pipes) {
    const share = meetPipe(pipe, eye, { along, out });
    if (share >= nearest) continue;
    nearest = share;
    seen.along = eye.along + share * (along - eye.along);
    seen.up = eye.up + share * (up - eye.up);
    seen.out = eye.out + share * (out - eye.out);
    seen.normalAlong = (seen.along - pipe.along) / pipe.radiusMm;
    seen.normalUp = 0;
    seen.normalOut = (seen.out - pipe.out) / pipe.radiusMm;
    for (let c = 0; c < 3; c++) seen.colour[c] = pipe.colour[c]!;
    seen.shines = false;
    seen.daylight = 0;
    seen.cornerMm = 1000;
    seen.opening = null;
  }
  return nearest < Infinity;
}

/** Nearer than this to a pipe's skin (mm) a point lies on it. */
const SKIN_MM = 0.5;

/** Whether a pipe keeps a laser's light from a point. */
export function shadesPoint(
  pipes: readonly Pipe[],
  laser: Pick<Laser, 'position'>,
  point: Pick<WallPoint, 'along' | 'out'>,
): boolean {
  const { along, out } = laser.position;
  const distance = Math.hypot(point.along - along, point.out - out);
  return pipes.some((pipe) => meetPipe(pipe, laser.position, point) * distance < distance - SKIN_MM);
}
