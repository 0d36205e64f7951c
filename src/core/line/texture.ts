import type { LineBand } from './lineBand.ts';

/**
 * Columns to either side from which the wall's own colours are learnt, and the most that one channel may
 * follow the other.
 */
const LEARNT_COLUMNS = 10;
const MOST_FOLLOWING = 3;
/** Spread of the other channel (linear light, squared) under which there is no texture to learn from. */
const LEAST_VARIANCE = 1;

/**
 * The laser's own channel of a band with the wall's texture taken out of it: beside the line, brick, mortar
 * and plaster change both the own channel and the other of red and green together, so the other one (in
 * linear light) predicts them by a straight line fitted round every column to what lies more than `farPx` off
 * the course; the laser changes hardly more than its own.
 */
export function removeTexture(band: LineBand, course: Float64Array, farPx: number): Float32Array {
  const { columns, rows, top, own, other } = band;
  // running sums over columns: count, other, own, other squared, other times own
  const sums = Array.from({ length: 5 }, () => new Float64Array(columns + 1)) as Sums;
  for (let x = 0; x < columns; x++) {
    const middle = course[x]! - top[x]!;
    let [n, p, q, pp, pq] = [0, 0, 0, 0, 0];
    for (let j = 0, i = x * rows; j < rows; j++, i++) {
      if (Math.abs(j - middle) <= farPx) continue;
      n++;
      p += other[i]!;
      q += own[i]!;
      pp += other[i]! * other[i]!;
      pq += other[i]! * own[i]!;
    }
    [n, p, q, pp, pq].forEach((value, k) => (sums[k]![x + 1] = sums[k]![x]! + value));
  }
  const cleaned = new Float32Array(columns * rows);
  for (let x = 0; x < columns; x++) {
    const [from, to] = [Math.max(0, x - LEARNT_COLUMNS), Math.min(columns, x + LEARNT_COLUMNS + 1)];
    const [n, p, q, pp, pq] = sums.map((sum) => sum[to]! - sum[from]!) as [
      number,
      number,
      number,
      number,
      number,
    ];
    const variance = pp / n - (p / n) ** 2;
    const following = variance > LEAST_VARIANCE ? (pq / n - (p / n) * (q / n)) / variance : 0;
    const slope = Math.min(MOST_FOLLOWING, Math.max(0, following));
    for (let i = x * rows; i < (x + 1) * rows; i++)
      cleaned[i] = own[i]! - q / n - slope * (other[i]! - p / n);
  }
  return cleaned;
}

type Sums = [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];
