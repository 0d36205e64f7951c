import { leastSquares } from '../checks/leastSquares.ts';

/** A straight scale seen by a camera: value = (a + b x) / (1 + c x), with x = (place - middle) / half. */
export interface ProjectiveScale {
  readonly middle: number;
  readonly half: number;
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** Value of the scale at a place. @example valueAt({ middle: 0, half: 2, a: 1, b: 2, c: 0 }, 4) // 5 */
export function valueAt({ middle, half, a, b, c }: ProjectiveScale, place: number): number {
  const x = (place - middle) / half;
  return (a + b * x) / (1 + c * x);
}

/** Place of a value on the scale. @example placeOf({ middle: 0, half: 2, a: 1, b: 2, c: 0 }, 5) // 4 */
export function placeOf({ middle, half, a, b, c }: ProjectiveScale, value: number): number {
  return middle + (half * (value - a)) / (b - c * value);
}

/**
 * The projective scale through places and their values, by least squares (of value times the denominator, which hardly changes);
 * without the projective term where there are fewer than three.
 * Source: a line's image under a pinhole camera is a homography of one dimension (Hartley & Zisserman, 2nd ed., section 2.5).
 */
export function fitProjective(
  places: ArrayLike<number>,
  values: ArrayLike<number>,
  sigmas?: ArrayLike<number>,
): ProjectiveScale {
  const n = places.length;
  let from = Infinity;
  let to = -Infinity;
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < n; i++) {
    from = Math.min(from, places[i]!);
    to = Math.max(to, places[i]!);
    low = Math.min(low, values[i]!);
    high = Math.max(high, values[i]!);
  }
  const middle = (from + to) / 2;
  const half = Math.max(1e-9, (to - from) / 2);
  const shift = (low + high) / 2;
  const size = Math.max(1e-9, (high - low) / 2);
  const columns = n < 3 ? 2 : 3;
  const design = new Float64Array(n * columns);
  const observed = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const x = (places[i]! - middle) / half;
    const y = (values[i]! - shift) / size;
    design.set([1, x, -x * y].slice(0, columns), i * columns);
    observed[i] = y;
  }
  const { solution } = leastSquares(design, columns, observed, sigmas && Float64Array.from(sigmas));
  const c = columns === 3 ? solution[2]! : 0;
  return { middle, half, a: solution[0]! * size + shift, b: solution[1]! * size + shift * c, c };
}
