/** Light at column x of a line and row j across it. */
export type Across = (x: number, j: number) => number;

/** Rows of one side from which the straight background is taken. */
const SIDE_ROWS = 4;
/** Steps of the mean cross-section, per row. */
const FINE = 4;
const NEWTON_TURNS = 4;

/** Straight background of a column beyond `reach` rows from the line. */
function groundOf(across: Across, x: number, centre: number, reach: number): (j: number) => number {
  const first = Math.ceil(centre - reach);
  const last = Math.floor(centre + reach);
  let [low, high] = [0, 0];
  for (let k = 1; k <= SIDE_ROWS; k++) {
    low += across(x, first - k) / SIDE_ROWS;
    high += across(x, last + k) / SIDE_ROWS;
  }
  const slope = (high - low) / (last - first + 1 + SIDE_ROWS);
  return (j) => low + slope * (j - first + (SIDE_ROWS + 1) / 2);
}

/** Mean cross-section about the true place, height 1, made even, at FINE steps per row from -reach to reach. */
export function learnShape(
  across: Across,
  centrePx: Float64Array,
  on: Uint8Array,
  reach: number,
): Float64Array {
  const sums = new Float64Array(2 * reach * FINE + 1);
  const weights = new Float64Array(sums.length);
  for (let x = 0; x < on.length; x++) {
    if (on[x] !== 1) continue;
    const centre = centrePx[x]!;
    const ground = groundOf(across, x, centre, reach);
    for (let j = Math.ceil(centre - reach); j <= centre + reach - 1 / FINE; j++) {
      const place = (j - centre + reach) * FINE;
      const bin = Math.floor(place);
      const value = across(x, j) - ground(j);
      sums[bin]! += (1 - place + bin) * value;
      weights[bin]! += 1 - place + bin;
      sums[bin + 1]! += (place - bin) * value;
      weights[bin + 1]! += place - bin;
    }
  }
  const mean = sums.map((sum, i) => (weights[i]! > 0 ? sum / weights[i]! : 0));
  const even = mean.map((value, i) => (value + mean[mean.length - 1 - i]!) / 2);
  const top = Math.max(...even);
  return even.map((value) => value / top);
}

/** The least-squares shift of one column against a known shape at a known place; height and ground are free too. */
export function fitShift(
  across: Across,
  x: number,
  centre: number,
  reach: number,
  shape: Float64Array,
): number {
  const ground = groundOf(across, x, centre, reach);
  const shapeAt = (t: number) => {
    const place = t * FINE + (shape.length - 1) / 2;
    const bin = Math.min(shape.length - 2, Math.max(0, Math.floor(place)));
    return shape[bin]! + (place - bin) * (shape[bin + 1]! - shape[bin]!);
  };
  let shift = 0;
  for (let turn = 0; turn < NEWTON_TURNS; turn++) {
    // normal equations of value = height * s + shift * d + offset
    let [n, s, d, v, ss, sd, dd, vs, vd] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
    for (let j = Math.ceil(centre - reach); j <= centre + reach; j++) {
      const t = j - centre - shift;
      const [here, slope] = [shapeAt(t), 2 * (shapeAt(t - 0.25) - shapeAt(t + 0.25))];
      const value = across(x, j) - ground(j);
      n++;
      s += here;
      d += slope;
      v += value;
      ss += here * here;
      sd += here * slope;
      dd += slope * slope;
      vs += value * here;
      vd += value * slope;
    }
    const [a, b, c] = [ss - (s * s) / n, sd - (s * d) / n, dd - (d * d) / n];
    const [p, q] = [vs - (v * s) / n, vd - (v * d) / n];
    const height = (p * c - q * b) / (a * c - b * b);
    shift += (q * a - p * b) / (a * c - b * b) / height;
  }
  return shift;
}
