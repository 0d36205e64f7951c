/**
 * A line's cross-section: where it is (row, sub-pixel), how bright, how noisy its surroundings, and how wide.
 */
export interface PlacedProfile {
  /** Row of the line's middle, NaN when there is no peak with two flanks. */
  row: number;
  /** Height of the peak above the background, and the spread of the background about its straight line. */
  amplitude: number;
  noise: number;
  /** Full width at half maximum, rows. */
  widthRows: number;
  /** Height of the next peak beside the line, as a share of the line's own. */
  secondShare: number;
  /** By how many rows the highest chord's middle is off the lowest one's. */
  skewRows: number;
}

/**
 * Heights of the chords whose middles are averaged, as shares of the peak; at least this many must have both
 * ends.
 */
const CHORDS = [0.3, 0.4, 0.5, 0.6, 0.7] as const;
const LEAST_CHORDS = 2;
/** A chord ends within this many line widths of the peak. */
const CHORD_REACH = 1.5;
/** The background is taken this many line widths away from the line, over this many rows. */
const BACKGROUND_WIDTHS = 1.6;
const BACKGROUND_ROWS = 6;
/**
 * Sides that differ by more than this share of the line's height are two grounds with an edge between them.
 */
const EDGE_SHARE = 0.5;

/** How far from its middle a line of this width (rows) leaves the background alone. @example backgroundAway(10) // 16 */
export function backgroundAway(widthRows: number): number {
  return Math.max(BACKGROUND_WIDTHS * widthRows, widthRows + 3);
}

/**
 * Rows needed on either side of a line of this width (full width at half maximum, rows) to see its background
 * too.
 */
export function profileReach(widthRows: number): number {
  return Math.ceil(backgroundAway(widthRows)) + BACKGROUND_ROWS + 1;
}

function median(values: Float32Array, from: number, to: number): number {
  const sorted = values.slice(from, to).sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

/**
 * Where the profile falls to `level`, walking from the peak by `step` for `reach` rows at most; NaN if it
 * does not.
 */
function crossing(profile: Float32Array, peak: number, step: number, level: number, reach: number): number {
  let j = peak;
  while (profile[j + step]! > level && Math.abs(j + step - peak) < reach) j += step;
  const beyond = profile[j + step];
  if (beyond === undefined || beyond > level) return NaN;
  return j + (step * (profile[j]! - level)) / (profile[j]! - beyond);
}

/**
 * Places a line in one cross-section (values in linear light, changed by taking away the background): the
 * mean of the middles of up to five chords between 0.3 and 0.7 of the peak, so that the flanks decide, on a
 * clipped core too. The background is the straight line through the medians of both sides; where they differ
 * too much for that, the darker one. The peak is looked for within `searchRows` of `expectedRow`.
 * Source: centre of a symmetric profile from its bisector (Gray, "The Observation and Analysis of Stellar
 * Photospheres", ch. 17; from memory); DEVELOPERS.md "Placing the line".
 */
export function placeProfile(
  profile: Float32Array,
  expectedRow: number,
  searchRows: number,
  widthRows: number,
): PlacedProfile {
  const ground = takeGround(profile, expectedRow, widthRows);
  let peak = -1;
  const last = Math.min(profile.length - 1, Math.floor(expectedRow + searchRows));
  for (let j = Math.max(0, Math.ceil(expectedRow - searchRows)); j <= last; j++)
    if (peak < 0 || profile[j]! > profile[peak]!) peak = j;
  let amplitude = peak < 0 ? 0 : profile[peak]!;
  if (peak >= 0 && Math.abs(ground.step) > EDGE_SHARE * amplitude) {
    for (let j = 0; j < profile.length; j++) profile[j]! += ground.aboveDarker(j);
    amplitude = profile[peak]!;
  }
  const placed = { row: NaN, amplitude, noise: ground.noise, widthRows: NaN, secondShare: 0, skewRows: 0 };
  if (amplitude <= 0) return placed;
  let [low, high] = [0, profile.length - 1];
  const middles: number[] = [];
  for (const share of CHORDS) {
    const from = crossing(profile, peak, -1, share * amplitude, CHORD_REACH * widthRows + 2);
    const to = crossing(profile, peak, 1, share * amplitude, CHORD_REACH * widthRows + 2);
    if (Number.isNaN(from + to)) continue;
    if (middles.length === 0) [low, high] = [from, to];
    middles.push((from + to) / 2);
    if (share <= 0.5 || middles.length === 1) placed.widthRows = to - from;
  }
  if (middles.length < LEAST_CHORDS) return placed;
  placed.row = middles.reduce((sum, middle) => sum + middle, 0) / middles.length;
  placed.skewRows = middles[middles.length - 1]! - middles[0]!;
  for (let j = 0; j < profile.length; j++)
    if (j < low || j > high) placed.secondShare = Math.max(placed.secondShare, profile[j]! / amplitude);
  return placed;
}

/**
 * The background of a profile: its spread, the step between its two sides, and the line through them above
 * the darker.
 */
interface Ground {
  readonly noise: number;
  readonly step: number;
  readonly aboveDarker: (row: number) => number;
}

/** Takes the straight line through the medians of a profile's two sides away from it. */
function takeGround(profile: Float32Array, expectedRow: number, widthRows: number): Ground {
  const rows = profile.length;
  const away = backgroundAway(widthRows);
  const before = Math.min(rows - 2, Math.max(2, Math.ceil(expectedRow - away)));
  const after = Math.max(1, Math.min(rows - 2, Math.floor(expectedRow + away) + 1));
  const first = Math.max(0, before - BACKGROUND_ROWS);
  const end = Math.min(rows, after + BACKGROUND_ROWS);
  const [left, right] = [median(profile, first, before), median(profile, after, end)];
  const [leftRow, rightRow] = [(first + before - 1) / 2, (after + end - 1) / 2];
  const slope = (right - left) / (rightRow - leftRow);
  let spread = 0;
  for (let j = 0; j < rows; j++) {
    profile[j]! -= left + slope * (j - leftRow);
    if ((j >= first && j < before) || (j >= after && j < end)) spread += Math.abs(profile[j]!);
  }
  const darker = Math.min(left, right);
  return {
    // mean absolute deviation to standard deviation of a normal
    noise: (1.2533 * spread) / (before - first + end - after),
    step: right - left,
    aboveDarker: (row) => left + slope * (row - leftRow) - darker,
  };
}
