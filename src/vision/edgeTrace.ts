import type { ImagePoint } from '../core/camera/frames.ts';
import { leastSquares } from '../core/checks/leastSquares.ts';
import { TRACED_CORRELATED_PX } from '../core/line/correlation.ts';
import { refuse } from '../core/refusal.ts';
import { readStrip, type Strip } from './edgeStrip.ts';
import type { Picture } from './picture.ts';

/** What was followed: a bright or dark string, or an edge between two areas. */
export type EdgeKind = 'bright' | 'dark' | 'edge';

/** A straight thing as followed in a picture: points in order (px) with their sigma across it (px). */
export interface TracedEdge {
  readonly kind: EdgeKind;
  readonly u: Float64Array;
  readonly v: Float64Array;
  readonly sigmaPx: Float64Array;
  /** Share of the length between the two ends on which it was seen. */
  readonly seen: number;
}

/** Reach of the second derivative and the slope across (px): the width of a thin string or a sharp edge in a photograph. */
const SCALE_PX = 1.5;
const KERNEL_PX = Math.ceil(3 * SCALE_PX);
/** Response is averaged over so many px along before the path is chosen and placed. */
const ALONG_PX = 5;
/** Price of a px of change across per px along, in usual responses. */
const SLOPE_PRICE = 1;
/** Under this share of its usual response it is not seen: something lies in front of it. */
const LEAST_SHARE = 0.3;
/** Points further off the smooth curve than this are on something else (sigmas, px). */
const FAR_SIGMAS = 4;
const FAR_PX = 0.5;
/** What scatters more than this (px) is no edge but noise. */
const MOST_SCATTER_PX = 1;
const LEAST_SEEN = 0.4;
const LEAST_POINTS = 12;
const REFITS = 4;
/** Means over so many px are compared with the smooth curve to tell the noise. */
const BLOCK_PX = 20;
const LEAST_LENGTH_PX = 40;
/** No picture places an edge better than this (px): its sampling and compression. */
const LEAST_SIGMA_PX = 0.02;
/** What a lens may bend it by, as a share of its length: some 50 px over the whole of a 12-megapixel picture. */
const BOW_SHARE = 0.012;

/**
 * Follows a string or an edge between two places that the user tapped, each within `tapPx` of it: near the straight line between
 * them, further in the middle than at its ends, the path of the strongest response (Gaussian slope of an edge, second derivative of a string), placed across by the parabola
 * through its peak. Where it is hidden there are no points. `edge` is the number that a refusal names.
 * @throws edge_short under 40 px; edge_not_traced where less than two fifths of it are seen
 * Source: Steger 1998, "An unbiased detector of curvilinear structures", PAMI 20(2) (scale and normalised derivatives; from
 * memory); path by dynamic programming.
 */
export function traceEdge(
  picture: Picture,
  from: ImagePoint,
  to: ImagePoint,
  tapPx: number,
  edge = 0,
): TracedEdge {
  const lengthPx = Math.hypot(to.u - from.u, to.v - from.v);
  if (!(lengthPx >= LEAST_LENGTH_PX)) return refuse({ code: 'edge_short', edge });
  const bowPx = BOW_SHARE * lengthPx;
  const strip = readStrip(picture, from, to, Math.ceil(tapPx + bowPx), KERNEL_PX + 1);
  const inside = listReaches(strip.rows, tapPx, bowPx);
  const candidates = respond(strip, inside).map(({ kind, response }) => follow(kind, response, strip));
  const best = candidates.reduce((a, b) => (b.strength > a.strength ? b : a));
  const kept = keepSmooth(best);
  const seen = kept.at.length / strip.rows;
  if (!(seen >= LEAST_SEEN)) return refuse({ code: 'edge_not_traced', edge });
  const [tu, tv] = [(to.u - from.u) / lengthPx, (to.v - from.v) / lengthPx];
  return {
    kind: best.kind,
    u: kept.at.map((row, k) => from.u + row * tu - kept.across[k]! * tv),
    v: kept.at.map((row, k) => from.v + row * tv + kept.across[k]! * tu),
    sigmaPx: kept.sigma,
    seen,
  };
}

/** How far aside of the straight line it may be at each place: a tap's error, and in the middle what a lens bends. */
function listReaches(rows: number, tapPx: number, bowPx: number): Float64Array {
  return Float64Array.from({ length: rows }, (_, row) => {
    const share = row / Math.max(1, rows - 1);
    return tapPx + 4 * bowPx * share * (1 - share);
  });
}

interface Response {
  readonly kind: EdgeKind;
  /** Strength at each place of the strip, row by row; never negative. */
  readonly response: Float32Array;
}

/** How much each place of the strip looks like an edge of either sense, or like a bright or dark string. */
function respond({ rows, width, reach: middle, light }: Strip, inside: Float64Array): Response[] {
  const reach = KERNEL_PX;
  const gauss = Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-0.5 * ((k - reach) / SCALE_PX) ** 2),
  );
  const total = gauss.reduce((sum, value) => sum + value, 0);
  const slope = gauss.map((value, k) => ((k - reach) / SCALE_PX) * (value / total));
  const second = gauss.map((value, k) => (1 - ((k - reach) / SCALE_PX) ** 2) * (value / total));
  const edge = new Float32Array(rows * width);
  const ridge = new Float32Array(rows * width);
  for (let row = 0; row < rows; row++)
    for (let j = reach; j < width - reach; j++) {
      if (Math.abs(j - middle) > inside[row]!) continue;
      let [first, bend] = [0, 0];
      for (let k = -reach; k <= reach; k++) {
        const value = light[row * width + j + k]!;
        first += slope[k + reach]! * value;
        bend += second[k + reach]! * value;
      }
      edge[row * width + j] = first;
      ridge[row * width + j] = bend;
    }
  averageAlong(edge, rows, width);
  averageAlong(ridge, rows, width);
  const positive = (values: Float32Array, sign: number) => values.map((value) => Math.max(0, sign * value));
  return [
    { kind: 'edge', response: positive(edge, 1) },
    { kind: 'edge', response: positive(edge, -1) },
    { kind: 'bright', response: positive(ridge, 1) },
    { kind: 'dark', response: positive(ridge, -1) },
  ];
}

/** Running mean over ALONG_PX rows, in place. */
function averageAlong(values: Float32Array, rows: number, width: number): void {
  const half = ALONG_PX >> 1;
  const column = new Float64Array(rows + 1);
  for (let j = 0; j < width; j++) {
    for (let row = 0; row < rows; row++) column[row + 1] = column[row]! + values[row * width + j]!;
    for (let row = 0; row < rows; row++) {
      const [first, end] = [Math.max(0, row - half), Math.min(rows, row + half + 1)];
      values[row * width + j] = (column[end]! - column[first]!) / (end - first);
    }
  }
}

interface Followed {
  readonly kind: EdgeKind;
  /** Mean response along the path. */
  readonly strength: number;
  readonly at: Float64Array;
  readonly across: Float64Array;
}

/** The path of the greatest response, at most one px across per px along, and its places where it is seen. */
function follow(kind: EdgeKind, response: Float32Array, { rows, width, reach }: Strip): Followed {
  const usual = findUsual(response, rows, width);
  const sum = new Float64Array(width);
  const next = new Float64Array(width);
  const came = new Int8Array(rows * width);
  const price = SLOPE_PRICE * usual;
  for (let row = 0; row < rows; row++) {
    for (let j = 0; j < width; j++) {
      let [best, step] = [sum[j]!, 0];
      if (j > 0 && sum[j - 1]! - price > best) [best, step] = [sum[j - 1]! - price, -1];
      if (j < width - 1 && sum[j + 1]! - price > best) [best, step] = [sum[j + 1]! - price, 1];
      // a cap, so that a bright speck does not draw the path aside
      next[j] = best + Math.min(response[row * width + j]!, 2 * usual);
      came[row * width + j] = step;
    }
    sum.set(next);
  }
  let j = sum.indexOf(sum.reduce((most, value) => Math.max(most, value), -Infinity));
  const path = new Int32Array(rows);
  for (let row = rows - 1; row >= 0; row--) {
    path[row] = j;
    j += came[row * width + j]!;
  }
  const values = path.map((place, row) => 1e6 * response[row * width + place]!);
  const median = values.slice().sort()[rows >> 1]! / 1e6;
  const places: { at: number; across: number }[] = [];
  path.forEach((place, row) => {
    if (place < 1 || place > width - 2) return;
    const [before, own, after] = [-1, 0, 1].map((k) => response[row * width + place + k]!) as Triple;
    if (own < LEAST_SHARE * median || own < before || own < after || own === 0) return;
    const bend = before - 2 * own + after;
    places.push({ at: row, across: place - reach + (bend < 0 ? (before - after) / (2 * bend) : 0) });
  });
  return {
    kind,
    strength: median,
    at: Float64Array.from(places, ({ at }) => at),
    across: Float64Array.from(places, ({ across }) => across),
  };
}

type Triple = [number, number, number];

/** Median over the rows of each row's greatest response. */
function findUsual(response: Float32Array, rows: number, width: number): number {
  const most = Float64Array.from({ length: rows }, (_, row) =>
    response.subarray(row * width, (row + 1) * width).reduce((a, b) => Math.max(a, b), 0),
  );
  return most.sort()[rows >> 1]!;
}

/**
 * The places near the smooth curve (a cubic along the strip) that the others lie on, refitted without those that are far, with
 * one sigma for all.
 */
function keepSmooth({ at, across }: Pick<Followed, 'at' | 'across'>) {
  let kept = Array.from(at.keys());
  for (let round = 0; round < REFITS && kept.length >= LEAST_POINTS; round++) {
    const curve = fitCubic(
      kept.map((k) => at[k]!),
      kept.map((k) => across[k]!),
    );
    const misses = Array.from(at.keys(), (k) => Math.abs(across[k]! - curve(at[k]!)));
    const usual = 1.4826 * kept.map((k) => misses[k]!).sort((a, b) => a - b)[kept.length >> 1]!;
    kept = Array.from(at.keys()).filter((k) => misses[k]! <= Math.max(FAR_PX, FAR_SIGMAS * usual));
    if (usual > MOST_SCATTER_PX) kept = [];
  }
  if (kept.length < LEAST_POINTS) kept = [];
  const places = Float64Array.from(kept, (k) => at[k]!);
  const values = Float64Array.from(kept, (k) => across[k]!);
  const curve = kept.length > 0 ? fitCubic(Array.from(places), Array.from(values)) : () => NaN;
  const misses = values.map((value, k) => value - curve(places[k]!));
  return { at: places, across: values, sigma: new Float64Array(kept.length).fill(measureNoise(misses)) };
}

/**
 * Sigma of one place such that means, of which one in TRACED_CORRELATED_PX is independent, scatter as much as those over BLOCK_PX do
 * about the smooth curve: the edge's own roughness and the sampling's slow error are in it.
 */
function measureNoise(misses: Float64Array): number {
  const means: number[] = [];
  for (let k = 0; k + BLOCK_PX <= misses.length; k += BLOCK_PX)
    means.push(misses.subarray(k, k + BLOCK_PX).reduce((sum, miss) => sum + miss, 0) / BLOCK_PX);
  // a cubic takes four of them
  const square = means.reduce((sum, mean) => sum + mean * mean, 0) / Math.max(1, means.length - 4);
  return Math.max(LEAST_SIGMA_PX, Math.sqrt((square * BLOCK_PX) / TRACED_CORRELATED_PX));
}

/** Least-squares cubic through places and values. */
function fitCubic(at: readonly number[], values: readonly number[]): (at: number) => number {
  const middle = (at[0]! + at[at.length - 1]!) / 2;
  const half = Math.max(1, (at[at.length - 1]! - at[0]!) / 2);
  const design = Float64Array.from(
    at.flatMap((place) => {
      const x = (place - middle) / half;
      return [1, x, x * x, x * x * x];
    }),
  );
  const [a, b, c, d] = leastSquares(design, 4, Float64Array.from(values)).solution as unknown as Quadruple;
  return (place) => {
    const x = (place - middle) / half;
    return a + x * (b + x * (c + x * d));
  };
}

type Quadruple = [number, number, number, number];
