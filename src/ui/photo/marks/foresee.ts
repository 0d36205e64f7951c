import type { ImagePoint } from '../../../core/camera/frames.ts';
import { evaluateForm } from '../../../core/camera/dense.ts';
import { CAMERA_PARAMETERS, projectPoint } from '../../../core/camera/projection.ts';
import type { Resection } from '../../../core/camera/resect.ts';
import type { Mark } from '../../../core/survey.ts';

/** Where a place of the wall should be seen, and its sigma (px). */
export interface Foreseen extends ImagePoint {
  readonly sigmaPx: number;
}

type WallPlace = Pick<Mark, 'along' | 'up'>;

/** What perspective adds to two marks' scale and turn: a share of the distance from them, and px. */
const PERSPECTIVE_SHARE = 0.08;
const PERSPECTIVE_PX = 40;
/** A press so much further from where it should be is asked about. */
const MOST_SIGMAS = 5;
const LEAST_MISS_PX = 30;

/**
 * Where a place on the wall (mm) should be seen: by the camera where it is known, the wall `outMm` off the laser's plane and uneven by
 * `reliefMm` (sigma); else by scale and turn of the two marks furthest apart; null with less.
 */
export function foreseePlace(
  marks: readonly Mark[],
  place: WallPlace,
  resection: Resection | null,
  outMm: number,
  reliefMm: number,
): Foreseen | null {
  return resection ? foreseeByCamera(place, resection, outMm, reliefMm) : foreseeByMarks(marks, place);
}

function foreseeByCamera(
  { along, up }: WallPlace,
  { camera, covariance }: Resection,
  outMm: number,
  reliefMm: number,
): Foreseen | null {
  const seen = projectPoint(camera, { along, up, out: outMm });
  if (!seen) return null;
  const { byCamera, byPoint } = seen;
  const variance = [0, 1].map(
    (row) =>
      evaluateForm(covariance, CAMERA_PARAMETERS, byCamera, row * CAMERA_PARAMETERS) +
      (byPoint[3 * row + 2]! * reliefMm) ** 2,
  );
  return { u: seen.u, v: seen.v, sigmaPx: Math.sqrt(Math.max(...variance)) };
}

function foreseeByMarks(marks: readonly Mark[], place: WallPlace): Foreseen | null {
  let [one, other]: (Mark | undefined)[] = [];
  let most = 1;
  for (const a of marks)
    for (const b of marks) {
      const apart = Math.hypot(a.along - b.along, a.up - b.up);
      if (apart > most) [one, other, most] = [a, b, apart];
    }
  if (!one || !other) return null;
  // image = one + z * wall, both as complex numbers with up against v
  const [x, y] = [other.along - one.along, other.up - one.up];
  const [p, q] = [other.u - one.u, one.v - other.v];
  const re = (p * x + q * y) / most ** 2;
  const im = (q * x - p * y) / most ** 2;
  const [a, b] = [place.along - one.along, place.up - one.up];
  const u = one.u + re * a - im * b;
  const v = one.v - (im * a + re * b);
  const awayPx = Math.min(Math.hypot(u - one.u, v - one.v), Math.hypot(u - other.u, v - other.v));
  return { u, v, sigmaPx: PERSPECTIVE_PX + PERSPECTIVE_SHARE * awayPx };
}

/** Whether a press is so far from where the place should be seen, or on the wrong side of the one mark there is, that one must ask. */
export function isDoubtful(
  at: ImagePoint,
  foreseen: Foreseen | null,
  marks: readonly Mark[],
  place: WallPlace,
): boolean {
  if (foreseen) {
    const miss = Math.hypot(at.u - foreseen.u, at.v - foreseen.v);
    return miss > Math.max(LEAST_MISS_PX, MOST_SIGMAS * foreseen.sigmaPx);
  }
  const [mark] = marks;
  if (!mark) return false;
  const [along, up] = [place.along - mark.along, place.up - mark.up];
  const [right, above] = [at.u - mark.u, mark.v - at.v];
  // seen upright from the room, what is right on the wall is right in the picture: within 60 degrees
  return along * right + up * above < 0.5 * Math.hypot(along, up) * Math.hypot(right, above);
}
