import type { Camera } from './camera.ts';
import type { Evidence } from './evidence.ts';
import { projectPoint } from './projection.ts';

/**
 * What turns each mark's residual (du, dv; px) into two standardised ones, 2 x 2 row-major per mark: over sigma where the
 * mark's offset is known; else the residual along the parallax that an offset makes, over the sigma of click and offset
 * together, and the residual across it. Null where a mark is behind the camera.
 * Source: whitening of sigma^2 I + s^2 b b^T, b = d image / d out at the given camera.
 */
export function weighMarks(
  { photo, markOutMm, markOutSigmaMm }: Evidence,
  camera: Camera,
): Float64Array | null {
  const weights = new Float64Array(4 * photo.marks.length);
  for (let i = 0; i < photo.marks.length; i++) {
    const { along, up, sigma } = photo.marks[i]!;
    const image = projectPoint(camera, { along, up, out: markOutMm[i] ?? 0 });
    if (!image) return null;
    const u = image.byPoint[2]!;
    const v = image.byPoint[5]!;
    const perMm = Math.hypot(u, v);
    const [cos, sin] = perMm > 0 ? [u / perMm, v / perMm] : [1, 0];
    const overSigma = 1 / Math.hypot(sigma, markOutSigmaMm * perMm);
    weights.set([cos * overSigma, sin * overSigma, -sin / sigma, cos / sigma], 4 * i);
  }
  return weights;
}
