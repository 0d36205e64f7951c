import type { BedPlane } from '../../src/core/results.ts';
import { solveProgramme, type Triple } from './linearProgramme.ts';

/** Spots of the wall (mm, same length): where, and how far out the masonry stands there. */
export interface WallSpots {
  readonly along: Float64Array;
  readonly up: Float64Array;
  readonly out: Float64Array;
}

/** What the bed plane must keep: the least bed (mm), and how far it may turn in plan and lean out of plumb (mm/mm). */
export interface BedLimits {
  readonly minBedMm: number;
  /** Most turn |q|; Infinity leaves it free, 0 keeps the plane parallel to the laser's. */
  readonly turnMost: number;
  /** Most lean |r|; 0 keeps the plane plumb, Infinity leaves it free. */
  readonly leanMost: number;
}

export interface BedFit {
  readonly plane: BedPlane;
  readonly meanBedMm: number;
  readonly maxBedMm: number;
}

/** Nobody lines a wall that stands 45 degrees off its laser: what "free" is bounded by (mm/mm). */
const steepest = 1;

/** The spots about their middle and shrunk to size 1, so that the objective is the plane's height at the middle. */
interface Shape {
  readonly count: number;
  readonly middle: { readonly along: number; readonly up: number };
  readonly half: { readonly along: number; readonly up: number };
  readonly rows: Float64Array;
}

const mean = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0) / values.length;
const spread = (values: Float64Array, middle: number) =>
  values.reduce((most, value) => Math.max(most, Math.abs(value - middle)), 0) || 1;

function shapeSpots({ along, up, out }: WallSpots, minBedMm: number): Shape {
  const count = out.length;
  const middle = { along: mean(along), up: mean(up) };
  const half = { along: spread(along, middle.along), up: spread(up, middle.up) };
  const rows = new Float64Array(4 * (count + 4));
  for (let i = 0; i < count; i++) {
    rows[4 * i] = 1;
    rows[4 * i + 1] = (along[i]! - middle.along) / half.along;
    rows[4 * i + 2] = (up[i]! - middle.up) / half.up;
    rows[4 * i + 3] = out[i]! + minBedMm;
  }
  return { count, middle, half, rows };
}

/** Range of a slope (mm/mm). */
type Range = readonly [least: number, most: number];

/**
 * The end of the optimal planes' range of one slope: with q and r within their ranges, the plane of least mean bed, and
 * among equals the one with least `sense` x slope.
 */
function findSlope(shape: Shape, q: Range, r: Range, slope: 'q' | 'r', sense: 1 | -1): number {
  const { count, half, rows } = shape;
  const bounds = [q[0] * half.along, -q[1] * half.along, r[0] * half.up, -r[1] * half.up];
  [1, -1].forEach((sign, k) => {
    rows.set([0, sign, 0, bounds[k]!], 4 * (count + k));
    rows.set([0, 0, sign, bounds[2 + k]!], 4 * (count + 2 + k));
  });
  const turned: Triple = [0, slope === 'q' ? sense : 1, 0];
  const leant: Triple = [0, 0, slope === 'r' ? sense : 1];
  const later = slope === 'q' ? ([turned, leant] as const) : ([leant, turned] as const);
  // Row 0 carries the middle's height; a bound on each slope holds the rest of the objective, on the side where that
  // takes a positive share. With no first-order pull, the later objective says which side.
  const side = (at: number, then: number) => (at < 0 || (at === 0 && then > 0) ? 0 : 1);
  const start: Triple = [0, count + side(rows[1]!, turned[1]), count + 2 + side(rows[2]!, leant[2])];
  const { ended, at } = solveProgramme(rows, [[1, 0, 0], ...later], start);
  if (ended !== 'optimal')
    throw new Error(`tangent plane: expected an optimum, got ${ended} over ${count} spots`);
  return slope === 'q' ? at[1] / half.along : at[2] / half.up;
}

/** Of the slopes that are equally good, the one nearest to none at all. */
function chooseSlope(shape: Shape, q: Range, r: Range, slope: 'q' | 'r'): number {
  const [least, most] = slope === 'q' ? q : r;
  if (least === most) return least + 0;
  const low = findSlope(shape, q, r, slope, 1);
  const high = findSlope(shape, q, r, slope, -1);
  // + 0 turns a negative zero into a plain one.
  return Math.min(Math.max(0, low), Math.max(low, high)) + 0;
}

/**
 * The plane out = p + q along + r up that keeps the least bed at every spot with the least mean bed, exactly: a linear
 * programme in p, q, r. Among equally good planes the one that leans least, then the one that turns least, so that the
 * answer does not depend on the order of the spots.
 * `spots`: one or more, all finite, mm. An exact dual simplex of our own, apart from
 * src/: what the plan's solver is compared with.
 */
export function fitTangentPlane(spots: WallSpots, limits: BedLimits): BedFit {
  const shape = shapeSpots(spots, limits.minBedMm);
  const turn = Math.min(limits.turnMost, steepest);
  const lean = Math.min(limits.leanMost, steepest);
  const r = chooseSlope(shape, [-turn, turn], [-lean, lean], 'r');
  const q = chooseSlope(shape, [-turn, turn], [r, r], 'q');
  let p = -Infinity;
  for (let i = 0; i < shape.count; i++)
    p = Math.max(p, spots.out[i]! + limits.minBedMm - q * spots.along[i]! - r * spots.up[i]!);
  let maxBedMm = -Infinity;
  for (let i = 0; i < shape.count; i++)
    maxBedMm = Math.max(maxBedMm, p + q * spots.along[i]! + r * spots.up[i]! - spots.out[i]!);
  const meanBedMm = p + q * shape.middle.along + r * shape.middle.up - mean(spots.out);
  return { plane: { p, q, r }, meanBedMm, maxBedMm };
}
