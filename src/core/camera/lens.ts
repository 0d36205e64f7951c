/**
 * Radial distortion, Brown's first two terms in normalised coordinates: x_d = x (1 + k1 r^2 + k2 r^4), r the undistorted
 * radius (Brown 1971, "Close-range camera calibration", Photogrammetric Engineering 37(8)). Barrel: k1 < 0.
 */

/**
 * Factor by which the lens moves a normalised point of radius r.
 * @example distortionFactor(2, -0.01, 0.001) // 0.976
 */
export function distortionFactor(radius: number, k1: number, k2 = 0): number {
  const square = radius * radius;
  return 1 + square * (k1 + k2 * square);
}

/**
 * Square of the normalised radius at which the lens's formula folds back, the least root of 1 + 3 k1 r^2 + 5 k2 r^4: from there on a
 * ray further out would come to lie further in, and the formula stands for no real ray. Infinity where it never does.
 * @example findFold(-0.4, 0) // 0.8333333333333334
 */
export function findFold(k1: number, k2: number): number {
  const under = 9 * k1 * k1 - 20 * k2;
  const divisor = Math.sqrt(under) - 3 * k1;
  return divisor > 0 ? 2 / divisor : Infinity;
}

/**
 * Whether a normalised radius lies where the lens still moves points outwards, short of the fold of its formula.
 * @example liesWithinFold(1, -0.4) // false
 */
export function liesWithinFold(radius: number, k1: number, k2 = 0): boolean {
  return radius * radius < findFold(k1, k2);
}

/**
 * Undistorted radius of a distorted one (both normalised), by Newton's method on r (1 + k1 r^2 + k2 r^4) = r_d, halving instead where
 * a step would leave the bounds found so far; NaN beyond the fold.
 * @example undistortRadius(0.99, -0.01) // 1
 */
export function undistortRadius(distortedRadius: number, k1: number, k2 = 0): number {
  const foldRadius = Math.sqrt(findFold(k1, k2));
  const beyond = foldRadius * distortionFactor(foldRadius, k1, k2);
  if (foldRadius < Infinity && distortedRadius >= beyond) return NaN;
  let [low, high] = [0, foldRadius];
  let r = Math.min(distortedRadius, foldRadius);
  for (let i = 0; i < 60; i++) {
    const square = r * r;
    const miss = r * distortionFactor(r, k1, k2) - distortedRadius;
    if (miss > 0) high = r;
    else low = r;
    const next = r - miss / (1 + square * (3 * k1 + 5 * k2 * square));
    const inside = next >= low && next <= high;
    const last = r;
    r = inside ? next : (low + Math.min(high, 2 * low + 1)) / 2;
    if (Math.abs(r - last) < 1e-14) break;
  }
  return r;
}
