import type { Camera } from '../../core/camera/camera.ts';
import type { WallPoint } from '../../core/camera/frames.ts';
import { projectPoint } from '../../core/camera/projection.ts';
import { planeOut } from '../../core/lining/bed.ts';
import { fillNodes, sampleNodes, type NodeGrid } from '../../core/lining/nodeGrid.ts';
import type { LiningPlan, Solution } from '../../core/results.ts';
import type { Photo, Survey } from '../../core/survey.ts';
import type { Point } from '../rings.ts';
import { findCamera, findFrameShift } from './frameShift.ts';

/** What is drawn onto a photograph. */
export interface PlanOfWall {
  readonly survey: Survey;
  readonly solution: Solution;
  readonly plan: LiningPlan;
}

/** Size of the upright picture, px. */
export interface PictureSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Where a spot of the wall (along, up; mm) is looked for in space: on the masonry, or on the boards. */
export type Lift = (spot: Point) => WallPoint;

/** A photograph whose camera is known, before the wall it shows. */
export interface PhotoSight {
  readonly camera: Camera;
  readonly onWall: Lift;
  /** On the bed plane, or so far (mm) in front of it. */
  onPlane(beforeMm?: number): Lift;
}

/** Why nothing can be drawn onto a photograph. `fitMm`: 19 of 20 places would lie within it. */
export type NoDrawing =
  | { readonly code: 'left_out' } // by the user
  | { readonly code: 'not_placed' } // the solve does not know where it was taken from
  | { readonly code: 'no_wall' } // it shows none of the wall
  | { readonly code: 'fits_badly'; readonly fitMm: number };

/** How much of the wall a photograph shows, and how well a drawing of it fits. */
export interface PhotoFit {
  readonly areaM2: number;
  /** Share of the wall's area, openings aside. */
  readonly share: number;
  /** Within this (mm on the wall) 19 of 20 places are drawn, two sigma. */
  readonly fitMm: number;
  readonly pxPerMm: number;
}

export type Sighting =
  | { readonly ok: true; readonly sight: PhotoSight; readonly fit: PhotoFit }
  | { readonly ok: false; readonly why: NoDrawing };

/** A drawing that fits worse than this (mm) would name the wrong brick; own choice. */
export const FIT_MOST_MM = 25;
/** Nodes of the surface from one that is asked for its fit to the next (mm). */
const PROBE_MM = 100;

/**
 * A photograph as the solve placed it, to draw the plan onto a picture of the given size: its camera, the wall's surface and the bed
 * plane before it.
 */
export function sightPhoto(
  { survey, solution, plan }: PlanOfWall,
  photo: Photo,
  size: PictureSize,
): Sighting {
  if (photo.leftOut) return { ok: false, why: { code: 'left_out' } };
  const pose = solution.photos.find(({ id }) => id === photo.id);
  const { stepMm, nx, ny, out } = solution.surface;
  const camera = findCamera(solution, photo, size);
  if (!pose || !camera || !Number.isFinite(pose.markRmsPx) || out.every(Number.isNaN))
    return { ok: false, why: { code: 'not_placed' } };
  const shift = findFrameShift(survey, solution);
  const surface = fillNodes({ stepMm, nx, ny, values: out });
  const sight: PhotoSight = {
    camera,
    onWall: ([along, up]) => ({
      along,
      up,
      out: sampleNodes(surface, along, up) + planeOut(shift, along, up),
    }),
    onPlane:
      (beforeMm = 0) =>
      ([along, up]) => ({
        along,
        up,
        out: planeOut(plan.bedPlane, along, up) + planeOut(shift, along, up) + beforeMm,
      }),
  };
  const fit = measureFit(sight, solution, pose);
  if (fit.areaM2 === 0) return { ok: false, why: { code: 'no_wall' } };
  if (fit.fitMm > FIT_MOST_MM) return { ok: false, why: { code: 'fits_badly', fitMm: fit.fitMm } };
  return { ok: true, sight, fit };
}

/** Where the solve knows the wall: values and sigma at every so many nodes. */
function* probe({ stepMm, nx, ny, values }: NodeGrid): Generator<{ k: number; along: number; up: number }> {
  const every = Math.max(1, Math.round(PROBE_MM / stepMm));
  for (let j = 0; j < ny; j += every)
    for (let i = 0; i < nx; i += every) {
      const k = j * nx + i;
      if (!Number.isNaN(values[k]!)) yield { k, along: i * stepMm, up: j * stepMm };
    }
}

/**
 * How well what is drawn lies on the wall, root mean square over what is seen of it. A place strays by what the marks miss (their px, in
 * mm there), and by the wall's and the photo's own uncertainty of offset times the tangent of the angle it is seen under.
 */
function measureFit(
  { camera, onWall }: PhotoSight,
  { surface, photos }: Solution,
  pose: Solution['photos'][number],
): PhotoFit {
  const { stepMm, nx, ny, out, sigma } = surface;
  const offsetMm = offsetSigmaOf(pose, photos);
  let [count, seen, squares, scales] = [0, 0, 0, 0];
  for (const { k, along, up } of probe({ stepMm, nx, ny, values: out })) {
    count++;
    const point = onWall([along, up]);
    const image = projectPoint(camera, point);
    if (!image || !isInPicture(camera, image.u, image.v)) continue;
    const [ua, uu, , va, vu] = image.byPoint as unknown as number[];
    const pxPerMm = Math.sqrt(Math.abs(ua! * vu! - uu! * va!));
    const { position } = camera;
    const aside = Math.hypot(point.along - position.along, point.up - position.up);
    const tangent = aside / Math.abs(position.out - point.out);
    seen++;
    scales += pxPerMm;
    squares += (pose.markRmsPx / pxPerMm) ** 2 + tangent ** 2 * (sigma[k]! ** 2 + offsetMm ** 2);
  }
  const every = Math.max(1, Math.round(PROBE_MM / stepMm));
  return {
    areaM2: (seen * (every * stepMm) ** 2) / 1e6,
    share: count === 0 ? 0 : seen / count,
    fitMm: 2 * Math.sqrt(squares / seen),
    pxPerMm: scales / seen,
  };
}

/** Expected sigma of an offset (mm) seen in a photo; of one without a line of its own, the worst of those from its place, else of all. */
function offsetSigmaOf(pose: Solution['photos'][number], photos: Solution['photos']): number {
  const known = [pose, ...photos].filter(({ offsetSigmaMm }) => Number.isFinite(offsetSigmaMm));
  const here = known.filter(({ position }) => position.out === pose.position.out);
  if (known.includes(pose)) return pose.offsetSigmaMm;
  return Math.max(0, ...(here.length > 0 ? here : known).map(({ offsetSigmaMm }) => offsetSigmaMm));
}

/** Whether an image point (px, pixel centres at whole numbers) is in the picture. */
export function isInPicture({ widthPx, heightPx }: PictureSize, u: number, v: number): boolean {
  return u >= -0.5 && v >= -0.5 && u <= widthPx - 0.5 && v <= heightPx - 0.5;
}

/** The photographs that show the wall best first: a millimetre of fit weighs as much as a hundredth of the wall; own choice. */
export function rankFits<Seen extends { readonly fit: PhotoFit }>(seen: readonly Seen[]): Seen[] {
  const worth = ({ fit }: Seen) => fit.share - fit.fitMm / 100;
  return [...seen].sort((a, b) => worth(b) - worth(a));
}
