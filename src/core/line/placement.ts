import { fitCrossSection } from './crossSection.ts';
import { findEnds } from './ends.ts';
import { smoothAlong, type LineBand } from './lineBand.ts';
import { backgroundAway, placeProfile, type GroundSides, type PlacedProfile } from './profile.ts';
import { medianOf } from './running.ts';
import { findSides } from './sides.ts';
import { followSteps } from './steps.ts';
import { removeTexture } from './texture.ts';

/** What was measured in every column of a band. */
export interface Placement {
  readonly profiles: readonly PlacedProfile[];
  /** Across-coordinate of the line, px; NaN where nothing could be placed. */
  readonly across: Float64Array;
  /** The course it was looked for along: the one given, with the line's steps in it. */
  readonly course: Float64Array;
  /** Columns with which the line goes on at another height. */
  readonly steps: readonly number[];
  /** Full width at half maximum over the whole band, px. */
  readonly widthPx: number;
}

/** What lies beside the line is judged over this many columns. */
const SIDES_PX = 128;

/** Luminance, or the laser's own channel. */
export type PlacingChannel = 'light' | 'own';

/** A line this far above the spread of the wall beside it is placed well enough by its light. */
const CLEAR_CONTRAST = 8;
/**
 * Luminance places, unless the laser's own channel stands out of the noise this many times better; a clipped
 * own channel is no better.
 */
const OWN_CHANNEL_GAIN = 1.75;
const CLIPPED_CHANNEL_GAIN = 2.5;

export interface PlacingSizes {
  readonly searchPx: number;
  readonly widthPx: number;
  readonly smoothingPx: number;
}

/**
 * Places the line in every column of a band along its course (across-coordinate per column), looking within
 * `searchPx` of it for a line of about `widthPx`, after smoothing along the course with a Gaussian of
 * `smoothingPx` (0 = none).
 */
export function placeColumns(
  band: LineBand,
  channel: PlacingChannel,
  course: Float64Array,
  sizes: PlacingSizes,
): Placement {
  return placeValues(band, band[channel], course, sizes);
}

function placeValues(
  band: LineBand,
  values: Float32Array,
  rough: Float64Array,
  sizes: PlacingSizes,
): Placement {
  const { columns, rows, top } = band;
  const { searchPx, smoothingPx } = sizes;
  const { course, breaks } =
    smoothingPx > 0
      ? followSteps(band, values, rough, sizes.widthPx, searchPx)
      : { course: rough, breaks: [] };
  const ends = smoothingPx > 0 ? findEnds(band, values, course, sizes.widthPx) : [];
  const parts = [...new Set([...breaks, ...ends])].sort((a, b) => a - b);
  const smoothed = smoothingPx > 0 ? smoothAlong(band, values, course, smoothingPx, parts) : values;
  const profiles: PlacedProfile[] = [];
  const profile = new Float32Array(rows);
  let sides: GroundSides | undefined;
  for (let x = 0; x < columns; x++) {
    if (x % SIDES_PX === 0)
      sides = findSides(band, smoothed, course, x, Math.min(columns, x + SIDES_PX), sizes.widthPx);
    for (let j = 0, i = x * rows; j < rows; j++, i++) profile[j] = smoothed[i]!;
    profiles.push(placeProfile(profile, course[x]! - top[x]!, searchPx, sizes.widthPx, sides));
  }
  const widthPx = medianOf(profiles.map(({ widthRows }) => widthRows));
  // a glance needs no more than the chords
  if (smoothingPx > 0) fitCrossSection(band, smoothed, profiles, widthPx);
  const across = Float64Array.from(profiles, ({ row }, x) => top[x]! + row);
  return { profiles, across, course, steps: breaks, widthPx };
}

/**
 * Texture is taken out where the line is less clear than `CLEAR_CONTRAST`, if that makes it this many times
 * clearer.
 */
const TEXTURE_GAIN = 2;
/** What is learnt beside the line fits less well on it. */
const LEARNT_NOISE = 1.3;
/**
 * Own channel (0..255) from which the line may be clipped; more than this share of such columns and it is.
 */
const CLIPPED = 250;
const CLIPPED_SHARE = 0.2;

/**
 * The placement with its unclear columns placed anew where the wall's texture can be taken out
 * (`removeTexture`).
 */
export function sharpenPlacement(
  band: LineBand,
  placement: Placement,
  course: Float64Array,
  sizes: PlacingSizes,
): Placement {
  const unclear = placement.profiles.map(
    ({ row, amplitude, noise }) => Number.isNaN(row) || amplitude < CLEAR_CONTRAST * noise,
  );
  if (!unclear.includes(true) || isClipped(band)) return placement;
  const cleaned = removeTexture(band, course, backgroundAway(sizes.widthPx));
  const anew = placeValues(band, cleaned, course, sizes);
  const profiles = placement.profiles.map((profile, x) => {
    const other = anew.profiles[x]!;
    if (!unclear[x] || Number.isNaN(other.row)) return profile;
    const clearer = other.amplitude * profile.noise > TEXTURE_GAIN * profile.amplitude * other.noise;
    return Number.isNaN(profile.row) || clearer ? { ...other, noise: LEARNT_NOISE * other.noise } : profile;
  });
  return { ...placement, profiles, across: Float64Array.from(profiles, ({ row }, x) => band.top[x]! + row) };
}

/** Whether a line's own channel is at its limit in many columns. */
function isClipped(band: LineBand): boolean {
  return (
    band.own.reduce((count, value) => count + (value >= CLIPPED ? 1 : 0), 0) > CLIPPED_SHARE * band.columns
  );
}

/**
 * Which channel to place by: luminance, which has the picture's full sharpness, unless the own channel shows
 * the line much better.
 */
export function choosePlacing(band: LineBand, light: Placement, own: Placement): PlacingChannel {
  const gain = isClipped(band) ? CLIPPED_CHANNEL_GAIN : OWN_CHANNEL_GAIN;
  return signalToNoise(own) > gain * signalToNoise(light) ? 'own' : 'light';
}

function signalToNoise({ profiles }: Placement): number {
  return medianOf(
    profiles.map(({ row, amplitude, noise }) => (Number.isNaN(row) ? 0 : amplitude / (noise + 1e-3))),
  );
}

/** All channels from this level on: a core without a colour. */
const CORE_LEVEL = 204;
/** Colour below this share of its peak does not pull the course. */
const PULLING_SHARE = 0.3;

/**
 * Where the course of a line is likely to be in every column: where its light was placed if it is clearly
 * brighter than the wall, else the middle of its colour, which neither mortar nor plaster edges have.
 */
export function likelyCourse(
  band: LineBand,
  placement: Placement,
  course: Float64Array,
  searchPx: number,
): Float64Array {
  const { rows, top, channels } = band;
  const [own, a, b] = channels;
  return placement.across.map((across, x) => {
    const { amplitude, noise, secondShare } = placement.profiles[x]!;
    if (amplitude > CLEAR_CONTRAST * noise && secondShare < 0.5) return across;
    // a core too bright to have a colour is the line itself, its colour only a flank
    const peak = x * rows + Math.round(across - top[x]!);
    if (Math.min(own[peak]!, a[peak]!, b[peak]!) >= CORE_LEVEL) return across;
    const middle = course[x]! - top[x]!;
    const colour = (j: number) => own[x * rows + j]! - Math.max(a[x * rows + j]!, b[x * rows + j]!);
    const [first, last] = [
      Math.max(0, Math.ceil(middle - searchPx)),
      Math.min(rows - 1, Math.floor(middle + searchPx)),
    ];
    let [most, least] = [-Infinity, Infinity];
    for (let j = first; j <= last; j++)
      [most, least] = [Math.max(most, colour(j)), Math.min(least, colour(j))];
    const floor = least + PULLING_SHARE * (most - least);
    let [sum, weights] = [0, 0];
    for (let j = first; j <= last; j++) {
      const weight = Math.max(0, colour(j) - floor);
      sum += weight * j;
      weights += weight;
    }
    return weights > 0 ? top[x]! + sum / weights : NaN;
  });
}
