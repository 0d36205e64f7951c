import type { WallPoint } from '../../src/core/camera/frames.ts';
import type { LaserColour, LineAxis } from '../../src/core/survey.ts';
import { fillNormals } from './random.ts';
import type { Colour } from './texture.ts';

/** A line laser throwing one sheet of light. */
export interface Laser {
  readonly axis: LineAxis;
  /** Height of a level sheet, place along the wall of a plumb one (mm). */
  readonly at: number;
  readonly colour: LaserColour;
  /** Light in the middle of the line at 2 m from the laser, in the units of the room's light. */
  readonly power: number;
  /** Full width at half maximum at the wall, mm. */
  readonly widthMm: number;
  /** Where the laser stands. */
  readonly position: WallPoint;
}

/** What the sensor's three colours see of the two lasers: filters leak, so a strong line clips to white. */
const SEEN: Record<LaserColour, Colour> = { green: [0.1, 1, 0.15], red: [1, 0.085, 0.04] };

/** A laser as the sensor sees it, red, green, blue. */
export function colourOfLaser(laser: Laser): Colour {
  return SEEN[laser.colour];
}

/** Shares and widths of the line's skirts: light scattered in the wall and in the lens, symmetric about the line. */
const SKIRTS = [
  { share: 0.035, widthMm: 7 },
  { share: 0.006, widthMm: 26 },
] as const;
const REACH_MM = 90;

/**
 * Light across the line at a distance from the sheet (mm), 1 in its middle, averaged over a pixel `pixelMm` wide there.
 */
export function profileLine(laser: Laser, distanceMm: number, pixelMm: number): number {
  if (Math.abs(distanceMm) > REACH_MM) return 0;
  const square = distanceMm * distanceMm;
  const sigma = laser.widthMm / 2.3548;
  // a box convolved with a Gaussian is a Gaussian of the summed variance, closely
  const wide2 = sigma * sigma + (pixelMm * pixelMm) / 12;
  let light = (sigma / Math.sqrt(wide2)) * Math.exp((-0.5 * square) / wide2);
  for (const { share, widthMm } of SKIRTS) light += share * Math.exp(-Math.abs(distanceMm) / widthMm);
  return light;
}

/** Light of the sheet at a point in it, before the profile: falls with distance and towards the ends of the fan. */
export function fanLight(laser: Laser, along: number, up: number, out: number): number {
  const x = along - laser.position.along;
  const y = up - laser.position.up;
  const z = out - laser.position.out;
  const distance = Math.hypot(x, y, z);
  const aside = Math.abs(laser.axis === 'level' ? x : y) / distance;
  return laser.power * (2000 / distance) * (1 - 0.35 * aside * aside);
}

const SPECKLE_WIDTH = 1024;
const SPECKLE_HEIGHT = 512;

/** Speckle seen by the sensor: grains about two pixels wide, positive, mean 1. */
export interface Speckle {
  at(u: number, v: number): number;
}

/** `contrast` is the standard deviation of the logarithm; 0 = none. */
export function makeSpeckle(seed: number, contrast: number): Speckle {
  if (contrast === 0) return { at: () => 1 };
  const count = SPECKLE_WIDTH * SPECKLE_HEIGHT;
  const raw = fillNormals(seed, count);
  const across = new Float32Array(count);
  const field = new Float32Array(count);
  // [1 2 1] each way, made unit variance again: (1 + 4 + 1) / 16 per direction
  const back = 16 / 6;
  for (let i = 0; i < count; i++)
    across[i] = (raw[(i + count - 1) % count]! + 2 * raw[i]! + raw[(i + 1) % count]!) / 4;
  for (let i = 0; i < count; i++) {
    const mean =
      (across[(i + count - SPECKLE_WIDTH) % count]! + 2 * across[i]! + across[(i + SPECKLE_WIDTH) % count]!) /
      4;
    field[i] = Math.exp(contrast * mean * back - (contrast * contrast) / 2);
  }
  return { at: (u, v) => field[(v % SPECKLE_HEIGHT) * SPECKLE_WIDTH + (u % SPECKLE_WIDTH)]! };
}
