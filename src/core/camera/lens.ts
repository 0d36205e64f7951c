/**
 * Radial distortion, Brown's first term in normalised coordinates: x_d = x (1 + k1 r^2), r the undistorted radius
 * (Brown 1971, "Close-range camera calibration", Photogrammetric Engineering 37(8)). Barrel: k1 < 0.
 */

/**
 * Factor by which the lens moves a normalised point of radius r.
 * @example distortionFactor(1, -0.01) // 0.99
 */
export function distortionFactor(radius: number, k1: number): number {
  return 1 + k1 * radius * radius;
}

/**
 * Whether a normalised radius lies where the lens still moves points outwards: a barrel lens's formula folds back at
 * r^2 = 1 / (-3 k1), and beyond that stands for no real ray.
 * @example liesWithinFold(1, -0.4) // false
 */
export function liesWithinFold(radius: number, k1: number): boolean {
  return 1 + 3 * k1 * radius * radius > 0;
}

/**
 * Undistorted radius of a distorted one (both normalised), by Newton's method on r (1 + k1 r^2) = r_d, which approaches
 * from one side; NaN beyond the fold of a barrel lens.
 * @example undistortRadius(0.99, -0.01) // 1
 */
export function undistortRadius(distortedRadius: number, k1: number): number {
  // at the fold r_d is 2/3 of r
  if (k1 < 0 && distortedRadius >= 2 / 3 / Math.sqrt(-3 * k1)) return NaN;
  let r = distortedRadius;
  for (let i = 0; i < 20; i++) {
    const step = (r * (1 + k1 * r * r) - distortedRadius) / (1 + 3 * k1 * r * r);
    r -= step;
    if (Math.abs(step) < 1e-14) break;
  }
  return r;
}
