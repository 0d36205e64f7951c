import type { Opening } from '../../src/core/survey.ts';

/** What a pixel's ray ends on. One object is filled again and again: millions are asked for. */
export interface Seen {
  /** Place in the wall's frame (mm) and unit normal of the surface. */
  along: number;
  up: number;
  out: number;
  normalAlong: number;
  normalUp: number;
  normalOut: number;
  /** Reflectance of the surface, or the light it sends out where it `shines`. */
  readonly colour: Float64Array;
  shines: boolean;
  /** Share of the sky's light that falls on it. */
  daylight: number;
  /** Distance (mm) from the nearest inner corner, for the darkening there. */
  cornerMm: number;
  /** The opening the surface belongs to. */
  opening: Opening | null;
}

/** Something flat on the wall, to be filled. */
export function emptySeen(): Seen {
  return {
    along: 0,
    up: 0,
    out: 0,
    normalAlong: 0,
    normalUp: 0,
    normalOut: 1,
    colour: new Float64Array(3),
    shines: false,
    daylight: 0,
    cornerMm: 0,
    opening: null,
  };
}
