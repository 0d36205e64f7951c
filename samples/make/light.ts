import type { WallPoint } from '../../src/core/camera/frames.ts';
import type { Seen } from './seen.ts';
import type { Colour } from './texture.ts';

/** A lamp small against its distance; `strength` is the light it gives a surface square to it at `atMm`. */
export interface Lamp {
  readonly position: WallPoint;
  readonly colour: Colour;
  readonly strength: number;
  readonly atMm: number;
}

/** The light in the room, linear, 1 = what just clips on a white surface at exposure 1. */
export interface RoomLight {
  readonly ambient: Colour;
  readonly lamps: readonly Lamp[];
  /** Light of the sky in the window. */
  readonly sky: Colour;
}

/** Adds to `into` the light that lamps throw on what is seen, by the inverse square and the cosine to its normal. */
export function addLamps(lamps: readonly Lamp[], seen: Seen, into: Float64Array): void {
  for (const lamp of lamps) {
    const x = lamp.position.along - seen.along;
    const y = lamp.position.up - seen.up;
    const z = lamp.position.out - seen.out;
    const square = x * x + y * y + z * z;
    const cosine = x * seen.normalAlong + y * seen.normalUp + z * seen.normalOut;
    if (cosine <= 0) continue;
    const light = (lamp.strength * lamp.atMm * lamp.atMm * cosine) / (square * Math.sqrt(square));
    into[0]! += light * lamp.colour[0];
    into[1]! += light * lamp.colour[1];
    into[2]! += light * lamp.colour[2];
  }
}

/** Darkening of a corner (0 to 1) at a distance from the next surface, mm. @example shadeCorner(1e6) // 1 */
export function shadeCorner(distanceMm: number): number {
  return 1 - 0.34 * Math.exp(-distanceMm / 130);
}
