import type { Camera } from './camera.ts';
import type { Evidence } from './evidence.ts';
import { projectPoint, type Projection } from './projection.ts';

/** How far a tape may stand off the wall that it lies on, besides the wall's own relief (mm, sigma): common practice, no source. */
export const TAPE_LOOSE_MM = 1;

/**
 * What turns each mark's residual (du, dv; px) into two standardised ones, 2 x 2 row-major per mark: over sigma where the
 * mark's offset is known; else the residual along the parallax that an offset makes, over the sigma of click and offset
 * together, and the residual across it. A mark that says where it is along one axis `only` counts square to its graduation, the
 * second residual being nothing. Null where a mark is behind the camera.
 * Source: whitening of sigma^2 I + s^2 b b^T, b = d image / d out at the given camera.
 */
export function weighMarks(
  { photo, markOutMm, markOutSigmaMm, tapeOutSigmaMm }: Evidence,
  camera: Camera,
): Float64Array | null {
  const weights = new Float64Array(4 * photo.marks.length);
  for (let i = 0; i < photo.marks.length; i++) {
    const { along, up, sigma, only } = photo.marks[i]!;
    const image = projectPoint(camera, { along, up, out: markOutMm[i] ?? 0 });
    if (!image) return null;
    const u = image.byPoint[2]!;
    const v = image.byPoint[5]!;
    if (only) {
      const [byU, byV] = lookAlong(image, only);
      const overSigma =
        1 / Math.hypot(sigma, Math.hypot(tapeOutSigmaMm, TAPE_LOOSE_MM) * (byU * u + byV * v));
      weights.set([byU * overSigma, byV * overSigma, 0, 0], 4 * i);
      continue;
    }
    const perMm = Math.hypot(u, v);
    const [cos, sin] = perMm > 0 ? [u / perMm, v / perMm] : [1, 0];
    const overSigma = 1 / Math.hypot(sigma, markOutSigmaMm * perMm);
    weights.set([cos * overSigma, sin * overSigma, -sin / sigma, cos / sigma], 4 * i);
  }
  return weights;
}

/** The direction (unit, px) in the picture that is square to a graduation: to where the wall's other axis is seen to run. */
export function lookAlong({ byPoint }: Projection, only: 'along' | 'up'): [number, number] {
  const other = only === 'along' ? 1 : 0;
  const u = byPoint[other]!;
  const v = byPoint[3 + other]!;
  const length = Math.hypot(u, v);
  return [v / length, -u / length];
}
