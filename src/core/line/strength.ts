import type { LaserColour } from '../survey.ts';
import type { StrengthMap } from './path.ts';
import { tileMeans } from './tiles.ts';

/**
 * Red, green and blue of a picture (row by row, levels) after filtering: ridge strength across the line, and
 * smoothed.
 */
export interface FilteredChannels {
  readonly width: number;
  readonly height: number;
  readonly ridge: readonly [Float32Array, Float32Array, Float32Array];
  readonly smooth: readonly [Float32Array, Float32Array, Float32Array];
}

/** How far to either side the line must stand out (px of the map). */
const ASIDE_PX = 2;
/** Smoothing leaves this much less of a line's height over its sides. */
const STANDS_OUT = 2.4;
/**
 * The light of a laser is added to what was there: its own channel rises at least by this share of the
 * colour's gain.
 */
const ADDED_SHARE = 0.4;
/** What rounding to 8 bits and JPEG leave in a picture without noise (levels of ridge strength). */
const LEAST_NOISE = 0.7;
const TILE_PX = 24;
/**
 * Share of its own channel's ridge that a colourless core within a coloured halo counts for, and the level
 * where clipping may begin.
 */
const CORE_SHARE = 0.3;
const BRIGHT = 190;

/** Strength of every 2 x 2 block of the picture, and which of its two rows is the stronger. */
export interface BlockStrength extends StrengthMap {
  readonly lower: Uint8Array;
}

/**
 * How much every 2 x 2 block looks like a laser line running along the rows, in units of how lively the
 * picture is round there, from the picture filtered at full, half and quarter size (`levels`); the larger of
 * two line widths. Either a ridge of the laser's own channel over both others, limited by the ridge of that
 * channel itself (light is added) and by how far it stands above either side (an edge does not); or, for a
 * core too bright to have a colour, a ridge of the own channel within a coloured halo.
 */
export function lineStrength(levels: readonly FilteredChannels[], colour: LaserColour): BlockStrength {
  const [full, half, quarter] = levels as readonly [FilteredChannels, FilteredChannels, FilteredChannels];
  const halo = levelStrength(quarter, colour, null, 0);
  return poolBlocks(levelStrength(full, colour, halo, 2), levelStrength(half, colour, halo, 1));
}

/** `halo` is smaller than the level by 2 to the power `halvings`; without it only coloured ridges count. */
function levelStrength(
  level: FilteredChannels,
  colour: LaserColour,
  halo: StrengthMap | null,
  halvings: number,
): StrengthMap {
  const { width, height } = level;
  const [main, other] = colour === 'red' ? ([0, 1] as const) : ([1, 0] as const);
  const [ownRidge, aRidge, bRidge] = [level.ridge[main], level.ridge[other], level.ridge[2]];
  const [own, a, b] = [level.smooth[main], level.smooth[other], level.smooth[2]];
  // ridge of the own channel over both others
  const ridge = new Float32Array(width * height);
  for (let i = 0; i < ridge.length; i++) ridge[i] = ownRidge[i]! - Math.max(aRidge[i]!, bRidge[i]!);
  const noise = tileMeans(width, height, ridge, TILE_PX);
  const aside = ASIDE_PX * width;
  for (let y = 0; y < height; y++) {
    const border = y < ASIDE_PX || y >= height - ASIDE_PX;
    const haloRow = halo ? Math.min(y >> halvings, halo.height - 1) * halo.width : 0;
    for (let x = 0, i = y * width; x < width; x++, i++) {
      let strength = ridge[i]!;
      const bright = halo !== null && own[i]! > BRIGHT;
      ridge[i] = 0;
      if (border || (strength <= 0 && !bright)) continue;
      const [i0, i1] = [i - aside, i + aside];
      // on the edge of something bright the line is brighter than the darker side only
      const added = Math.max(ownRidge[i]!, STANDS_OUT * (own[i]! - Math.min(own[i0]!, own[i1]!)));
      if (added <= 0) continue;
      const unit = Math.max(LEAST_NOISE, noise.at(x, y));
      if (strength > 0) {
        const overA = own[i]! - a[i]! - Math.max(own[i0]! - a[i0]!, own[i1]! - a[i1]!);
        const overB = own[i]! - b[i]! - Math.max(own[i0]! - b[i0]!, own[i1]! - b[i1]!);
        strength = Math.min(strength, added / ADDED_SHARE, STANDS_OUT * Math.min(overA, overB)) / unit;
      }
      if (bright) {
        const standsOut = STANDS_OUT * (own[i]! - Math.max(own[i0]!, own[i1]!));
        const core = (CORE_SHARE * Math.min(ownRidge[i]!, standsOut)) / unit;
        const inHalo = halo.values[haloRow + Math.min(x >> halvings, halo.width - 1)]!;
        strength = Math.max(strength, Math.min(core, inHalo));
      }
      if (strength > 0) ridge[i] = strength;
    }
  }
  return { width, height, values: ridge };
}

/** The strongest of each 2 x 2 block of the fine map and of the coarse map's value there. */
function poolBlocks(fine: StrengthMap, coarse: StrengthMap): BlockStrength {
  const { width, height } = coarse;
  const values = coarse.values;
  const lower = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    const first = 2 * y * fine.width;
    const second = 2 * y + 1 < fine.height ? first + fine.width : first;
    for (let x = 0, i = y * width; x < width; x++, i++) {
      const left = 2 * x;
      const right = Math.min(left + 1, fine.width - 1);
      const above = Math.max(fine.values[first + left]!, fine.values[first + right]!);
      const below = Math.max(fine.values[second + left]!, fine.values[second + right]!);
      if (below > above) lower[i] = 1;
      values[i] = Math.max(values[i]!, above, below);
    }
  }
  return { width, height, values, lower };
}
