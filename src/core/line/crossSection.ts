import type { LineBand } from './lineBand.ts';
import type { PlacedProfile } from './profile.ts';

/** Steps per row in which a mean cross-section is kept. */
const FINE = 5;
/** Columns over which a line's cross-section is taken to be the same, and the least that show it. */
const CHUNK_PX = 256;
const LEAST_COLUMNS = 24;
/** The least share of columns at every step between two rows. */
const LEAST_PHASE = 0.04;
/** How far from its middle a line of width 1 still has flanks. */
const REACH_WIDTHS = 1.3;
/** Columns this far above the noise beside them teach the shape. */
const CLEAR = 5;
const SECOND_SHARE = 0.5;
const TURNS = 3;
/** A fit that leaves the chords' place by more than this share of the width is not believed. */
const FARTHEST_SHARE = 0.3;

/**
 * A line's mean cross-section, height 1, made even about its middle, at FINE steps per row from -reach to reach, and its
 * slope per row.
 */
interface Shape {
  readonly reach: number;
  readonly values: Float64Array;
  readonly slopes: Float64Array;
}

/**
 * Places every column anew by the line's own mean cross-section, whatever its shape: the shift that fits it best by
 * least squares (a matched filter with the slope of the shape), started from `profiles`, whose rows are changed in
 * place. The shape holds a clipped core, a halo and blur as they are, so a clipped core counts for nothing and its flanks
 * for all, and is learnt anew every few hundred columns. Where the line is not clear enough to learn from, or the fit runs
 * away, the chords' place stays.
 * Source: maximum likelihood of a shift in white noise (Cramer-Rao; e.g. Hagen, Kupinski, Dereniak 2007); a model that
 * saturates as the line does: Shao et al. 2015, PLoS ONE 10(5):e0127068.
 */
export function fitCrossSection(
  band: Pick<LineBand, 'columns' | 'rows'>,
  values: Float32Array,
  profiles: readonly PlacedProfile[],
  widthRows: number,
): void {
  if (!(widthRows > 0)) return;
  const reach = Math.ceil(REACH_WIDTHS * widthRows) + 1;
  const whole = learnShape(band, values, profiles, 0, band.columns, reach);
  const chunks = Math.max(1, Math.round(band.columns / CHUNK_PX));
  for (let k = 0; k < chunks; k++) {
    const from = Math.floor((k * band.columns) / chunks);
    const to = Math.floor(((k + 1) * band.columns) / chunks);
    const shape = (chunks > 1 ? learnShape(band, values, profiles, from, to, reach) : null) ?? whole;
    if (shape) for (let x = from; x < to; x++) fitColumn(band, values, x, profiles[x]!, shape, widthRows);
  }
}

function learnShape(
  { rows }: Pick<LineBand, 'rows'>,
  values: Float32Array,
  profiles: readonly PlacedProfile[],
  from: number,
  to: number,
  reach: number,
): Shape | null {
  const sums = new Float64Array(2 * reach * FINE + 1);
  const weights = new Float64Array(sums.length);
  const phases = new Uint32Array(FINE);
  let columns = 0;
  for (let x = from; x < to; x++) {
    const { row, amplitude, noise, secondShare, ground, groundSlope } = profiles[x]!;
    if (!(amplitude > CLEAR * noise) || secondShare > SECOND_SHARE || Number.isNaN(row)) continue;
    columns++;
    const phase = Math.floor((row - Math.floor(row)) * FINE);
    phases[phase]!++;
    const last = Math.min(rows - 1, Math.floor(row + reach - 1 / FINE));
    for (let j = Math.max(0, Math.ceil(row - reach)); j <= last; j++) {
      const place = (j - row + reach) * FINE;
      const bin = Math.floor(place);
      const share = place - bin;
      const value = (values[x * rows + j]! - ground - groundSlope * j) / amplitude;
      sums[bin]! += (1 - share) * value;
      weights[bin]! += 1 - share;
      sums[bin + 1]! += share * value;
      weights[bin + 1]! += share;
    }
  }
  // a line that lies at one height within its pixels shows its shape there only
  if (columns < LEAST_COLUMNS || phases.some((seen) => seen < LEAST_PHASE * columns)) return null;
  const count = sums.length;
  for (let i = 0; i < count; i++) sums[i] = weights[i]! > 0 ? sums[i]! / weights[i]! : 0;
  const even = sums.map((value, i) => (value + sums[count - 1 - i]!) / 2);
  // over two fifths of a row to either side: less noise than the next step alone
  const slopes = even.map((_, i) =>
    i < 2 || i > count - 3 ? 0 : ((even[i + 2]! - even[i - 2]!) * FINE) / 4,
  );
  return { reach, values: even, slopes };
}

/** Gauss-Newton for height and shift; shape and slope are even and odd, so the two hardly touch each other. */
function fitColumn(
  { rows }: Pick<LineBand, 'rows'>,
  values: Float32Array,
  x: number,
  profile: PlacedProfile,
  shape: Shape,
  widthRows: number,
): void {
  const { ground, groundSlope } = profile;
  let row = profile.row;
  if (Number.isNaN(row)) return;
  for (let turn = 0; turn < TURNS; turn++) {
    let [ss, sd, dd, vs, vd] = [0, 0, 0, 0, 0];
    const last = Math.min(rows - 1, Math.floor(row + shape.reach - 1 / FINE));
    for (let j = Math.max(0, Math.ceil(row - shape.reach)); j <= last; j++) {
      const place = (j - row + shape.reach) * FINE;
      const bin = Math.floor(place);
      const share = place - bin;
      const s = shape.values[bin]! + share * (shape.values[bin + 1]! - shape.values[bin]!);
      const d = shape.slopes[bin]! + share * (shape.slopes[bin + 1]! - shape.slopes[bin]!);
      const value = values[x * rows + j]! - ground - groundSlope * j;
      ss += s * s;
      sd += s * d;
      dd += d * d;
      vs += value * s;
      vd += value * d;
    }
    // value = height * (s - shift * d)
    const det = ss * dd - sd * sd;
    const height = (vs * dd - vd * sd) / det;
    const shift = (vs * sd - vd * ss) / (det * height);
    if (!(height > 0) || !Number.isFinite(shift)) return;
    row += Math.min(1, Math.max(-1, shift));
    if (Math.abs(shift) < 1e-3) break;
  }
  if (Math.abs(row - profile.row) <= FARTHEST_SHARE * widthRows + 0.3) profile.row = row;
}
