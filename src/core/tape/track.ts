import { bandMiddle, blockMiddle, type Waves } from './waves.ts';

/** What was followed along a strip, block by block: middle (samples), row, period (samples), phase (cycles), share of the light. */
export interface TrackedBlock {
  readonly place: number;
  readonly row: number;
  readonly period: number;
  readonly phase: number;
  readonly share: number;
}

/** Steps of period and of band that one block may differ from the next. */
const MOST_STEP = 2;
const PERIOD_STEP_COST = 0.03;
const BAND_STEP_COST = 0.03;

/**
 * The graduations' wave followed through all blocks: the path through period and band on which the waves' shares less `bandCost`
 * (of each band) add up to the most, with a price for changing either.
 * Source: dynamic programming (Viterbi 1967, IEEE Trans. Inf. Theory 13(2)).
 */
export function trackWave(waves: Waves, bandCost: ArrayLike<number>): TrackedBlock[] {
  const { blocks, bands, periods, share } = waves;
  const n = periods.length;
  const states = bands * n;
  let best = new Float64Array(states);
  const from = new Int32Array(blocks * states);
  // the two prices add up, so the best change of period is found first and then that of band
  const byPeriod = new Float64Array(states);
  const periodFrom = new Int32Array(states);
  for (let block = 0; block < blocks; block++) {
    const next = new Float64Array(states);
    if (block > 0)
      for (let at = 0; at < states; at++) {
        const j = at % n;
        byPeriod[at] = -Infinity;
        for (let dj = Math.max(-MOST_STEP, -j); dj <= Math.min(MOST_STEP, n - 1 - j); dj++) {
          const value = best[at + dj]! - PERIOD_STEP_COST * Math.abs(dj);
          if (value <= byPeriod[at]!) continue;
          byPeriod[at] = value;
          periodFrom[at] = at + dj;
        }
      }
    for (let band = 0, at = 0; band < bands; band++)
      for (let j = 0; j < n; j++, at++) {
        let most = block === 0 ? 0 : -Infinity;
        const [first, last] = [Math.max(-MOST_STEP, -band), Math.min(MOST_STEP, bands - 1 - band)];
        for (let db = first; db <= last && block > 0; db++) {
          const value = byPeriod[at + db * n]! - BAND_STEP_COST * Math.abs(db);
          if (value <= most) continue;
          most = value;
          from[block * states + at] = periodFrom[at + db * n]!;
        }
        next[at] = most + share[block * states + at]! - bandCost[band]!;
      }
    best = next;
  }
  let state = best.indexOf(Math.max(...best));
  const path: TrackedBlock[] = [];
  for (let block = blocks - 1; block >= 0; block--) {
    path.push(describeBlock(waves, block, Math.floor(state / n), state % n));
    state = from[block * states + state]!;
  }
  return path.reverse();
}

/** A state of the path with its period and row refined by parabolas through its neighbours. */
function describeBlock(waves: Waves, block: number, band: number, j: number): TrackedBlock {
  const { bands, periods, share, phase } = waves;
  const n = periods.length;
  const at = (block * bands + band) * n + j;
  const near = (index: number, inside: boolean) => (inside ? share[index]! : share[at]!);
  const dj = vertexOf(near(at - 1, j > 0), share[at]!, near(at + 1, j + 1 < n));
  const dBand = vertexOf(near(at - n, band > 0), share[at]!, near(at + n, band + 1 < bands));
  const ratio = n > 1 ? periods[1]! / periods[0]! : 1;
  return {
    place: blockMiddle(waves, block),
    row: bandMiddle(waves, band + dBand),
    period: periods[j]! * ratio ** dj,
    phase: phase[at]!,
    share: share[at]!,
  };
}

/** Place of the top of the parabola through values at -1, 0, 1, within half a step. @example vertexOf(1, 3, 1) // 0 */
export function vertexOf(before: number, here: number, after: number): number {
  const bend = before - 2 * here + after;
  return bend < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / bend)) : 0;
}
