import type { Glare } from './glare.ts';
import type { Laser } from './laser.ts';
import type { RoomLight } from './light.ts';
import type { Pipe } from './pipe.ts';
import type { TapeStrip } from './tape.ts';
import type { Look } from './texture.ts';
import type { TrueWall } from './wall.ts';

/** Everything in front of the camera. */
export interface Scene {
  readonly wall: TrueWall;
  readonly look: Look;
  readonly light: RoomLight;
  /** The sheets of light that are switched on; none = a wall without laser. */
  readonly lasers: readonly Laser[];
  readonly tapes: readonly TapeStrip[];
  readonly pipes?: readonly Pipe[];
  readonly glares?: readonly Glare[];
  /** Share of the light that a shiny floor mirrors. */
  readonly floorGloss?: number;
  /** The wall ends free at its left, the room going on behind it, instead of meeting a return wall. */
  readonly freeEnd?: boolean;
}

/** Light that reaches the sensor: red, green, blue planes, row by row, linear, 1 = clipped. */
export interface Radiance {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly red: Float32Array;
  readonly green: Float32Array;
  readonly blue: Float32Array;
}
