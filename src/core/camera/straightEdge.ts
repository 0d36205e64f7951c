import { TRACED_CORRELATED_PX } from '../line/correlation.ts';
import { distortionFactor, undistortRadius } from './lens.ts';
import { principalPoint } from './camera.ts';

/**
 * The picture of something straight, a taut string or an edge: image points in order along it (px) with their sigma across it
 * (px), and the picture's size and focal length (px) as far as that is known.
 */
export interface EdgeCurve {
  readonly u: Float64Array;
  readonly v: Float64Array;
  readonly sigmaPx: Float64Array;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalPx: number;
}

/** A curve about its straight line at some k1: what each point misses it by, and how that changes with k1. */
export interface BentEdge {
  /** Sum of squares of the misses (miss), of their derivatives (slope), and of the products; each miss over its sigma. */
  readonly missSquare: number;
  readonly slopeSquare: number;
  readonly product: number;
  /** Sum of the derivatives times the misses that a bow of 1 px in the thing's own middle would make. */
  readonly bowProduct: number;
  /** Root mean square of the misses (px of the picture). */
  readonly rmsPx: number;
  readonly count: number;
}

/** Stretches that a curve is thinned to, at most. */
const STRETCHES = 60;
/** A hole of so many usual spacings is not averaged over. */
const HOLE_SPACINGS = 5;

/**
 * A curve thinned to means of at most some 60 stretches, never across a hole, each with the sigma of a mean of as many values as
 * are independent.
 */
export function thinEdge(curve: EdgeCurve): EdgeCurve {
  const { u, v, sigmaPx } = curve;
  const count = u.length;
  const spacings = u.slice(1).map((value, k) => Math.hypot(value - u[k]!, v[k + 1]! - v[k]!));
  const hole = HOLE_SPACINGS * (Float64Array.from(spacings).sort()[spacings.length >> 1] ?? 0);
  const chunk = Math.max(1, Math.ceil(count / STRETCHES));
  const means: { u: number; v: number; sigmaPx: number }[] = [];
  let first = 0;
  for (let end = 1; end <= count; end++) {
    if (end - first < chunk && end < count && spacings[end - 1]! <= hole) continue;
    const n = end - first;
    const mean = (values: Float64Array) =>
      values.subarray(first, end).reduce((sum, value) => sum + value / n, 0);
    const lengthPx = spacings.subarray(first, end - 1).reduce((sum, value) => sum + value, 0);
    const independent = Math.max(1, Math.min(n, lengthPx / TRACED_CORRELATED_PX));
    const square = mean(sigmaPx.map((value) => value * value));
    means.push({ u: mean(u), v: mean(v), sigmaPx: Math.sqrt(square / independent) });
    first = end;
  }
  return {
    ...curve,
    u: Float64Array.from(means, (each) => each.u),
    v: Float64Array.from(means, (each) => each.v),
    sigmaPx: Float64Array.from(means, (each) => each.sigmaPx),
  };
}

/**
 * A curve with the lens taken out at some k1, about the straight line that then fits it best. Null where a point lies beyond the
 * fold of such a lens. A miss is the distance in the undistorted picture over what one px of the photograph makes there.
 */
export function bendEdge(curve: EdgeCurve, k1: number): BentEdge | null {
  const { u, v, sigmaPx, focalPx } = curve;
  const count = u.length;
  const centre = principalPoint(curve);
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const xd = (u[i]! - centre.u) / focalPx;
    const yd = (v[i]! - centre.v) / focalPx;
    const factor = distortionFactor(undistortRadius(Math.hypot(xd, yd), k1), k1);
    x[i] = xd / factor;
    y[i] = yd / factor;
  }
  if (!x.every(Number.isFinite)) return null;
  const [dx, dy] = [x[count - 1]! - x[0]!, y[count - 1]! - y[0]!];
  const length = Math.hypot(dx, dy) || 1;
  const [tx, ty] = [dx / length, dy / length];
  const along = x.map((value, i) => (value - x[0]!) * tx + (y[i]! - y[0]!) * ty);
  const across = x.map((value, i) => (y[i]! - y[0]!) * tx - (value - x[0]!) * ty);
  const sigma = new Float64Array(count);
  const byK1 = new Float64Array(count);
  const byBow = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const r2 = x[i]! ** 2 + y[i]! ** 2;
    const stretch = 1 + 3 * k1 * r2;
    // the across direction in the directions of the radius and square to it
    const radial = r2 > 0 ? (y[i]! * tx - x[i]! * ty) ** 2 / r2 : 0;
    const perPx = Math.sqrt(radial / stretch ** 2 + (1 - radial) / (1 + k1 * r2) ** 2) / focalPx;
    sigma[i] = sigmaPx[i]! * perPx;
    byBow[i] = 4 * perPx * (along[i]! / length) * (1 - along[i]! / length);
    byK1[i] = (-r2 / stretch) * (y[i]! * tx - x[i]! * ty);
  }
  const miss = removeLine(along, across, sigma);
  const slope = removeLine(along, byK1, sigma);
  const bow = removeLine(along, byBow, sigma);
  let [missSquare, slopeSquare, product, bowProduct, square] = [0, 0, 0, 0, 0];
  for (let i = 0; i < count; i++) {
    missSquare += miss[i]! ** 2;
    slopeSquare += slope[i]! ** 2;
    product += miss[i]! * slope[i]!;
    bowProduct += bow[i]! * slope[i]!;
    square += (miss[i]! * sigmaPx[i]!) ** 2;
  }
  return { missSquare, slopeSquare, product, bowProduct, rmsPx: Math.sqrt(square / count), count };
}

/** Values less their weighted least-squares straight line along `at`, each over its sigma. */
function removeLine(at: Float64Array, values: Float64Array, sigma: Float64Array): Float64Array {
  let [weight, sumAt, sum] = [0, 0, 0];
  at.forEach((place, i) => {
    const w = sigma[i]! ** -2;
    weight += w;
    sumAt += w * place;
    sum += w * values[i]!;
  });
  const middle = sumAt / weight;
  let [square, product] = [0, 0];
  at.forEach((place, i) => {
    const w = sigma[i]! ** -2;
    square += w * (place - middle) ** 2;
    product += w * (place - middle) * values[i]!;
  });
  const slope = square > 0 ? product / square : 0;
  return values.map((value, i) => (value - sum / weight - slope * (at[i]! - middle)) / sigma[i]!);
}
