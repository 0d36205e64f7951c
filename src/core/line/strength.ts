import type { LaserColour } from '../survey.ts';
import type { StrengthMap } from './path.ts';
import { tileMeans, type TileMeans } from './tiles.ts';

/** A smoothed picture, row by row, one number a channel and place, in sixteenths of a level. */
export interface SmoothedPicture {
  readonly width: number;
  readonly height: number;
  readonly red: Uint16Array;
  readonly green: Uint16Array;
  readonly blue: Uint16Array;
}

const SIXTEENTH = 1 / 16;
/** How far to either side the line must stand out (px of the map). */
const ASIDE_PX = 2;
/**
 * Of a line with a spread of 1.15 px: twice its middle less both sides, in units of its height; and what brings the middle
 * less one side up to nine tenths of that height.
 */
const RIDGE_GAIN = 1.106;
const STANDS_OUT = 1.63;
/** Levels in one unit of a ridge as it is summed. */
const RIDGE_UNIT = SIXTEENTH / RIDGE_GAIN;
/**
 * The light of a laser is added to what was there: its own channel rises at least by this share of the
 * colour's gain.
 */
const ADDED_SHARE = 0.4;
/** What rounding to 8 bits and JPEG leave in a picture without noise (levels of ridge strength). */
const LEAST_NOISE = 0.7;
/** Tiles over which the noise is taken, px across the line; half as many along it. */
const TILE_PX = 24;
/**
 * Share of its own channel's ridge that a colourless core within a coloured halo counts for, and the level
 * where clipping may begin.
 */
const CORE_SHARE = 0.3;
const BRIGHT = 190;
/** Less strength than this is none: a path gains next to nothing from it. */
const LEAST_STRENGTH = 1;

/**
 * Strength of every 2 x 2 block of the picture, and how far off its middle towards the stronger of its two rows the line
 * is likely to lie (blocks).
 */
export interface BlockStrength extends StrengthMap {
  readonly aside: Float32Array;
}

/** A value for either colour. */
export type OfColour<T> = Readonly<Record<LaserColour, T>>;

/**
 * How much every 2 x 2 block looks like a laser line of either colour running along the rows, in units of how lively the
 * picture is round there, from the picture smoothed at full, half and quarter size (`levels`, each half as wide as high);
 * the larger of two line widths. Either a ridge of the laser's own channel over both others, limited by the ridge of that
 * channel itself (light is added) and by how far it stands above either side (an edge does not); or, for a core too bright
 * to have a colour, a ridge of the own channel within a coloured halo.
 */
export function lineStrength(levels: readonly SmoothedPicture[]): OfColour<BlockStrength> {
  const [full, half, quarter] = levels as readonly [SmoothedPicture, SmoothedPicture, SmoothedPicture];
  const halo = levelStrength(quarter, null, 0);
  const fine = levelStrength(full, halo, 2);
  const coarse = levelStrength(half, halo, 1);
  return { red: poolBlocks(fine.red, coarse.red), green: poolBlocks(fine.green, coarse.green) };
}

/** How far round a place the noise is taken (px of the picture at full size across the line). */
export const NOISE_REACH_PX = 2.5 * TILE_PX;

/** `halo` is smaller than the level by 2 to the power `halvings`; without it only coloured ridges count. */
function levelStrength(
  level: SmoothedPicture,
  halo: OfColour<StrengthMap> | null,
  halvings: number,
): OfColour<StrengthMap> {
  const { width, height } = level;
  const ridges = colourRidges(level);
  const grade = (colour: LaserColour): StrengthMap => {
    const noise = tileMeans(width, height, ridges[colour], TILE_PX / 2, TILE_PX);
    const values = gradeRidges(level, colour, ridges[colour], noise, halo && { map: halo[colour], halvings });
    return { width, height, values };
  };
  return { red: grade('red'), green: grade('green') };
}

/**
 * By how much the ridge of the red channel is above the others' and that of the green one, in `RIDGE_UNIT` levels; 0 along
 * the border rows. Without branches, which a processor would mostly foretell wrongly.
 */
function colourRidges({ width, height, red, green, blue }: SmoothedPicture): OfColour<Int16Array> {
  const redRidge = new Int16Array(width * height);
  const greenRidge = new Int16Array(width * height);
  const aside = ASIDE_PX * width;
  for (let i = aside; i < (height - ASIDE_PX) * width; i++) {
    const r = 2 * red[i]! - red[i - aside]! - red[i + aside]!;
    const g = 2 * green[i]! - green[i - aside]! - green[i + aside]!;
    const b = 2 * blue[i]! - blue[i - aside]! - blue[i + aside]!;
    const gb = g - b;
    const rb = r - b;
    // the larger of two whole numbers a and b is a - (d & (d >> 31)) with d = a - b
    redRidge[i] = r - g + (gb & (gb >> 31));
    greenRidge[i] = g - r + (rb & (rb >> 31));
  }
  return { red: redRidge, green: greenRidge };
}

interface Halo {
  readonly map: StrengthMap;
  readonly halvings: number;
}

/** Strengths of ridges of colour: what an edge, paint or the picture's noise can make is taken off. */
function gradeRidges(
  level: SmoothedPicture,
  colour: LaserColour,
  ridges: Int16Array,
  noise: TileMeans,
  halo: Halo | null,
): Float32Array {
  const { width, height } = level;
  const strengths = new Float32Array(width * height);
  for (let y = ASIDE_PX; y < height - ASIDE_PX; y++) {
    const tiles = Math.floor(y / noise.tileHeight) * noise.columns;
    for (let tile = 0; tile < noise.columns; tile++) {
      const unit = Math.max(LEAST_NOISE, noise.means[tiles + tile]! * RIDGE_UNIT);
      const from = tile * noise.tileWidth;
      const stretch = { y, from, to: Math.min(width, from + noise.tileWidth), unit };
      gradeStretch(level, colour, ridges, stretch, halo, strengths);
    }
  }
  return strengths;
}

/** Columns from..to (not in it) of a row, and the noise of the ridges there (levels). */
interface Stretch {
  readonly y: number;
  readonly from: number;
  readonly to: number;
  readonly unit: number;
}

function gradeStretch(
  level: SmoothedPicture,
  colour: LaserColour,
  ridges: Int16Array,
  { y, from, to, unit }: Stretch,
  halo: Halo | null,
  strengths: Float32Array,
): void {
  const { width, blue } = level;
  const own = level[colour];
  const other = colour === 'red' ? level.green : level.red;
  const aside = ASIDE_PX * width;
  const bright = halo ? BRIGHT / SIXTEENTH : Infinity;
  const least = LEAST_STRENGTH * unit;
  const leastRidge = least / RIDGE_UNIT;
  for (let x = from, i = y * width + from; x < to; x++, i++) {
    const ridge = ridges[i]!;
    const light = own[i]!;
    if (ridge <= leastRidge && light <= bright) continue;
    const before = own[i - aside]!;
    const after = own[i + aside]!;
    const ownRidge = (2 * light - before - after) * RIDGE_UNIT;
    // on the edge of something bright the line is brighter than the darker side only
    const added = Math.max(ownRidge, STANDS_OUT * SIXTEENTH * (light - (before < after ? before : after)));
    if (added <= least * ADDED_SHARE) continue;
    let strength = 0;
    if (ridge > leastRidge) {
      const overOther = light - other[i]! - Math.max(before - other[i - aside]!, after - other[i + aside]!);
      const overBlue = light - blue[i]! - Math.max(before - blue[i - aside]!, after - blue[i + aside]!);
      const over = STANDS_OUT * SIXTEENTH * (overOther < overBlue ? overOther : overBlue);
      strength = Math.min(ridge * RIDGE_UNIT, added / ADDED_SHARE, over);
    }
    if (light > bright && halo) {
      const standsOut = STANDS_OUT * SIXTEENTH * (light - (before > after ? before : after));
      const core = CORE_SHARE * Math.min(ownRidge, standsOut);
      if (core > strength) strength = Math.max(strength, Math.min(core, unit * haloAt(halo, x, y)));
    }
    if (strength > least) strengths[i] = strength / unit;
  }
}

/** Strength of the halo map at a place of the finer level. */
function haloAt({ map, halvings }: Halo, x: number, y: number): number {
  const row = Math.min(y >> halvings, map.height - 1);
  return map.values[row * map.width + Math.min(x >> halvings, map.width - 1)]!;
}

/** The stronger of each block's two rows of the fine map, or the coarse map's value there if that is more. */
function poolBlocks(fine: StrengthMap, coarse: StrengthMap): BlockStrength {
  const { width } = fine;
  const { height } = coarse;
  const values = new Float32Array(width * height);
  const aside = new Float32Array(width * height);
  for (let y = 0; y < height; y++) {
    const first = 2 * y * width;
    const second = 2 * y + 1 < fine.height ? first + width : first;
    for (let x = 0, i = y * width; x < width; x++, i++) {
      const above = fine.values[first + x]!;
      const below = fine.values[second + x]!;
      const wide = coarse.values[y * coarse.width + (x >> 1)]!;
      if (above > 0 || below > 0) aside[i] = (0.25 * (below - above)) / (below + above);
      if (above > 0 || below > 0 || wide > 0) values[i] = Math.max(wide, above, below);
    }
  }
  return { width, height, values, aside };
}
