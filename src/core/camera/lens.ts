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
 * Undistorted radius of a distorted one (both normalised), by Newton's method on r (1 + k1 r^2) = r_d.
 * Converges for |k1| r^2 well under 1/3, which holds for every phone lens (|k1| < 0.1, r < 1.2).
 * @example undistortRadius(0.99, -0.01) // 1
 */
export function undistortRadius(distortedRadius: number, k1: number): number {
  let r = distortedRadius;
  for (let i = 0; i < 20; i++) {
    const step = (r * (1 + k1 * r * r) - distortedRadius) / (1 + 3 * k1 * r * r);
    r -= step;
    if (Math.abs(step) < 1e-14) break;
  }
  return r;
}
