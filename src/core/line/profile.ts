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
  /** The background that was taken away: its height at row 0 and its rise per row. */
  ground: number;
  groundSlope: number;
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
export const BACKGROUND_ROWS = 6;
/**
 * Sides that differ by more than this share of the line's height are two grounds with an edge between them.
 */
const EDGE_SHARE = 0.5;

/** Over how many rows on either side the background may be read, `BACKGROUND_ROWS` at most. */
export interface GroundSides {
  readonly before: number;
  readonly after: number;
}

const WIDE_SIDES: GroundSides = { before: BACKGROUND_ROWS, after: BACKGROUND_ROWS };

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

const sorted = new Float64Array(BACKGROUND_ROWS);

/** Median of at most `BACKGROUND_ROWS` values, sorted by insertion: this is asked for millions of times. */
function median(values: Float32Array, from: number, to: number): number {
  const count = to - from;
  for (let i = 0; i < count; i++) {
    const value = values[from + i]!;
    let k = i;
    for (; k > 0 && sorted[k - 1]! > value; k--) sorted[k] = sorted[k - 1]!;
    sorted[k] = value;
  }
  const middle = count >> 1;
  return count % 2 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
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
 * too much for that, the darker one; `sides` says how many rows of either belong to the wall. The peak is looked for within `searchRows` of `expectedRow`.
 * Source: centre of a symmetric profile from its bisector (Gray, "The Observation and Analysis of Stellar
 * Photospheres", ch. 17; from memory); DEVELOPERS.md "Placing the line".
 */
export function placeProfile(
  profile: Float32Array,
  expectedRow: number,
  searchRows: number,
  widthRows: number,
  sides: GroundSides = WIDE_SIDES,
): PlacedProfile {
  const placed: PlacedProfile = {
    row: NaN,
    amplitude: 0,
    noise: 0,
    widthRows: NaN,
    secondShare: 0,
    skewRows: 0,
    ground: 0,
    groundSlope: 0,
  };
  const step = takeGround(profile, expectedRow, widthRows, sides, placed);
  let peak = -1;
  const last = Math.min(profile.length - 1, Math.floor(expectedRow + searchRows));
  for (let j = Math.max(0, Math.ceil(expectedRow - searchRows)); j <= last; j++)
    if (peak < 0 || profile[j]! > profile[peak]!) peak = j;
  if (peak < 0) return placed;
  placed.amplitude = profile[peak]!;
  if (Math.abs(step.rise) > EDGE_SHARE * placed.amplitude) {
    for (let j = 0; j < profile.length; j++)
      profile[j]! += placed.ground + placed.groundSlope * j - step.darker;
    placed.ground = step.darker;
    placed.groundSlope = 0;
    placed.amplitude = profile[peak]!;
  }
  if (placed.amplitude > 0) placeChords(profile, peak, widthRows, placed);
  return placed;
}

/** Fills in row, width, lean and second peak from the chords about the peak. */
function placeChords(profile: Float32Array, peak: number, widthRows: number, placed: PlacedProfile): void {
  const { amplitude } = placed;
  const reach = CHORD_REACH * widthRows + 2;
  let [low, high] = [0, profile.length - 1];
  let [count, sum, first, middle] = [0, 0, 0, 0];
  for (const share of CHORDS) {
    const from = crossing(profile, peak, -1, share * amplitude, reach);
    const to = crossing(profile, peak, 1, share * amplitude, reach);
    if (Number.isNaN(from + to)) continue;
    middle = (from + to) / 2;
    if (count === 0) [low, high, first] = [from, to, middle];
    if (share <= 0.5 || count === 0) placed.widthRows = to - from;
    sum += middle;
    count++;
  }
  if (count < LEAST_CHORDS) return;
  placed.row = sum / count;
  placed.skewRows = middle - first;
  let second = 0;
  for (let j = 0; j < profile.length; j++)
    if ((j < low || j > high) && profile[j]! > second) second = profile[j]!;
  placed.secondShare = second / amplitude;
}

/**
 * Takes the straight line through the medians of a profile's two sides away from it and notes it and the
 * spread about it; by how much one side rises over the other, and the darker one's level.
 */
function takeGround(
  profile: Float32Array,
  expectedRow: number,
  widthRows: number,
  sides: GroundSides,
  placed: PlacedProfile,
): { rise: number; darker: number } {
  const rows = profile.length;
  const away = backgroundAway(widthRows);
  const before = Math.min(rows - 2, Math.max(2, Math.ceil(expectedRow - away)));
  const after = Math.max(1, Math.min(rows - 2, Math.floor(expectedRow + away) + 1));
  const first = Math.max(0, before - sides.before);
  const end = Math.min(rows, after + sides.after);
  const [left, right] = [median(profile, first, before), median(profile, after, end)];
  const [leftRow, rightRow] = [(first + before - 1) / 2, (after + end - 1) / 2];
  placed.groundSlope = (right - left) / (rightRow - leftRow);
  placed.ground = left - placed.groundSlope * leftRow;
  let spread = 0;
  for (let j = 0; j < rows; j++) {
    profile[j]! -= placed.ground + placed.groundSlope * j;
    if ((j >= first && j < before) || (j >= after && j < end)) spread += Math.abs(profile[j]!);
  }
  // mean absolute deviation to standard deviation of a normal
  placed.noise = (1.2533 * spread) / (before - first + end - after);
  return { rise: right - left, darker: Math.min(left, right) };
}
