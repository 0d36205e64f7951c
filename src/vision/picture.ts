import type { LaserOff } from './laserOff.ts';

/** A decoded upright picture, RGBA, 8 bits, sRGB, row by row. */
export interface Picture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly rgba: Uint8ClampedArray | Uint8Array;
  /** The same view without the laser: what is in both pictures is taken off where a line is looked for. */
  readonly laserOff?: LaserOff | undefined;
}
