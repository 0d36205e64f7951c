import type { LaserColour, LineAxis } from '../../src/core/survey.ts';
import type { Picture } from '../../src/vision/picture.ts';
import { seedRandom } from '../truth/random.ts';

/**
 * A picture of a bare grey wall with a drawn line: quick, exact, without a wall's texture
 * (tests/truth/scenes.ts has that).
 */
export interface Drawing {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly axis?: LineAxis;
  readonly colour?: LaserColour;
  /** Across-coordinate of the line at a place along it (px); NaN where there is none. */
  readonly course: (along: number) => number;
  /**
   * Full width at half maximum (px), light in its middle (1 = white) and what it adds to its own colour's two
   * neighbours.
   */
  readonly widthLinePx?: number;
  readonly light?: number;
  readonly leak?: number;
  /** Light of the wall, and spread of the noise (levels). */
  readonly wall?: readonly [number, number, number];
  readonly noise?: number;
  readonly seed?: number;
}

const encode = (light: number): number =>
  255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * Math.min(1, light) ** (1 / 2.4) - 0.055);

/** Draws it. */
export function drawPicture(drawing: Drawing): Picture {
  const {
    widthPx,
    heightPx,
    axis = 'level',
    colour = 'green',
    course,
    widthLinePx = 4,
    light = 0.4,
  } = drawing;
  const { leak = 0.1, wall = [0.3, 0.29, 0.27], noise = 2, seed = 1 } = drawing;
  const rgba = new Uint8ClampedArray(4 * widthPx * heightPx);
  const random = seedRandom(seed);
  const bare = wall.map(encode);
  const seen = colour === 'green' ? [leak, 1, leak] : [1, leak, leak];
  const sigma = widthLinePx / 2.3548;
  for (let v = 0; v < heightPx; v++) {
    for (let u = 0; u < widthPx; u++) {
      const away = (axis === 'level' ? v : u) - course(axis === 'level' ? u : v);
      const near = Math.abs(away) < 6 * sigma;
      const line = near ? light * Math.exp(-0.5 * (away / sigma) ** 2) : 0;
      const k = 4 * (v * widthPx + u);
      for (let c = 0; c < 3; c++)
        rgba[k + c] =
          (near ? encode(wall[c]! + line * seen[c]!) : bare[c]!) + noise * 1.73 * (2 * random.uniform() - 1);
      rgba[k + 3] = 255;
    }
  }
  return { widthPx, heightPx, rgba };
}
