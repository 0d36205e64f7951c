import { distanceToNumber, widthOfNumber } from './digits.ts';
import type { Colour } from './texture.ts';

/** A tape or rule lying on the wall, graduated in mm from its zero, along the wall or up. */
export interface TapeStrip {
  readonly axis: 'along' | 'up';
  /** Wall coordinate (mm) of its zero, along its own axis; it is laid out from 0 to `length`. */
  readonly zero: number;
  readonly length: number;
  /** Wall coordinate (mm) of its graduated edge, across its axis, and on which side of that edge its body lies. */
  readonly edge: number;
  readonly side: 1 | -1;
  readonly width: number;
  readonly ground: Colour;
  /** Without graduations: a bit of masking tape that holds another one. */
  readonly blank?: boolean;
}

/** How far a tape's face stands off the plaster under it (mm). */
export const TAPE_OFF_MM = 1.5;

const INK: Colour = [0.012, 0.012, 0.014];
const RED: Colour = [0.4, 0.01, 0.008];

/** Distance from the tape's zero (mm) of a place on the wall (mm). */
export function alongTape(strip: TapeStrip, along: number, up: number): number {
  return (strip.axis === 'along' ? along : up) - strip.zero;
}

/** Distance across the tape from its graduated edge (mm). */
export function acrossTape(strip: TapeStrip, along: number, up: number): number {
  return ((strip.axis === 'along' ? up : along) - strip.edge) * strip.side;
}

/** A place on the wall (mm) is under the tape, grown by `marginMm`. */
export function liesUnderTape(strip: TapeStrip, along: number, up: number, marginMm = 0): boolean {
  const s = alongTape(strip, along, up);
  const w = acrossTape(strip, along, up);
  return s >= -marginMm && s <= strip.length + marginMm && w >= -marginMm && w <= strip.width + marginMm;
}

function colourOfTape(strip: TapeStrip, s: number, w: number): Colour {
  if (strip.blank) return strip.ground;
  // text reads upright on a level tape, from the right on an upright one
  const textDown = strip.axis === 'along' ? strip.side < 0 : strip.side > 0;
  const hundred = Math.round(s / 100);
  if (Math.abs(s - 100 * hundred) < 0.7 && hundred > 0) return RED;
  const tick = Math.round(s);
  const tickMm =
    tick % 10 === 0 ? 0.28 * strip.width : tick % 5 === 0 ? 0.2 * strip.width : 0.13 * strip.width;
  const halfInk = tick % 10 === 0 ? 0.45 : 0.25;
  if (w < tickMm && Math.abs(s - tick) < halfInk) return INK;
  // rows below the graduations: figures of the centimetres, then the red ones of the hundreds
  const top = 0.31 * strip.width;
  const y = textDown ? w - top : strip.width - w - 0.04 * strip.width;
  const rowMm = 0.65 * strip.width;
  const cell = 0.05 * strip.width;
  // figures are 6 cells high, their strokes less than 1 mm to either side
  const isNearRow = (y: number) => y > -1 && y < 6 * cell + 1;
  const small = textDown ? y : y - (rowMm - 6 * cell);
  const large = textDown ? y - (rowMm - 6 * cell) : y;
  const centimetre = Math.round(s / 10);
  if (centimetre % 10 !== 0 && centimetre > 0 && isNearRow(small)) {
    const digit = centimetre % 10;
    if (distanceToNumber(digit, (s - 10 * centimetre) / cell + 2, small / cell) * cell < 0.62) return INK;
  }
  const before = Math.floor(s / 100);
  if (before > 0 && isNearRow(large)) {
    const x = (s - 100 * before - 2.5) / cell;
    if (x < widthOfNumber(before * 10) + 1 && distanceToNumber(before * 10, x, large / cell) * cell < 0.85)
      return RED;
  }
  return strip.ground;
}

/**
 * Share of a pixel that a tape covers, and into `into` the tape's reflectance averaged over that share; the pixel's sides
 * reach (sU, wU) and (sV, wV) mm along and across the tape.
 */
export function averageTape(
  strip: TapeStrip,
  s: number,
  w: number,
  sU: number,
  wU: number,
  sV: number,
  wV: number,
  into: Float64Array,
): number {
  const each = 5;
  let count = 0;
  let red = 0;
  let green = 0;
  let blue = 0;
  for (let j = 0; j < each; j++)
    for (let i = 0; i < each; i++) {
      const p = (i + 0.5) / each - 0.5;
      const q = (j + 0.5) / each - 0.5;
      const along = s + p * sU + q * sV;
      const across = w + p * wU + q * wV;
      if (along < 0 || across < 0 || along > strip.length || across > strip.width) continue;
      const colour = colourOfTape(strip, along, across);
      count++;
      red += colour[0];
      green += colour[1];
      blue += colour[2];
    }
  if (count === 0) return 0;
  into[0] = red / count;
  into[1] = green / count;
  into[2] = blue / count;
  return count / (each * each);
}
