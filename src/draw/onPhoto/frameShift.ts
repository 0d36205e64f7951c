import { wallFromImageOnSheet, type Camera } from '../../core/camera/camera.ts';
import type { BedPlane, Solution } from '../../core/results.ts';
import { fitPlane } from '../../core/solve/plane.ts';
import type { Photo, Survey } from '../../core/survey.ts';

/** Points of each line that are compared. */
const POINTS = 60;

/**
 * How far (mm, as a plane over the wall) the cameras' frame lies from the surface's. A wall without readings is told from its own mean
 * plane while the cameras stay in the laser's frame: there the lines, cut with their sheets anew, less their profiles give the plane;
 * to as much as the sheets stood off their names. With readings it is nothing.
 */
export function findFrameShift(survey: Survey, solution: Solution): BedPlane {
  const none = { p: 0, q: 0, r: 0 };
  if (!solution.warnings.some(({ code }) => code === 'no_readings')) return none;
  const lines = solution.profiles.map((profile) => {
    const photo = survey.photos.find(({ id }) => id === profile.photo);
    const { widthPx = 0, heightPx = 0 } = photo ?? {};
    const camera = photo && widthPx > 0 ? findCamera(solution, photo, { widthPx, heightPx }) : null;
    const every = Math.max(1, Math.floor(profile.s.length / POINTS));
    const sheet = { axis: profile.axis, at: profile.atMm };
    return Array.from(profile.s.keys())
      .filter((k) => camera !== null && k % every === 0)
      .map((k) => {
        const place = wallFromImageOnSheet(camera!, { u: profile.u[k]!, v: profile.v[k]! }, sheet);
        return { ...place, out: place.out - profile.out[k]! };
      })
      .filter(({ out }) => Number.isFinite(out));
  });
  const seen = lines.filter((line) => line.length > 2);
  const places = seen.flat();
  if (places.length === 0) return none;
  // one line holds no plane
  if (seen.length < 2) return { ...none, p: places.reduce((sum, { out }) => sum + out, 0) / places.length };
  return fitPlane(places);
}

/** The camera of a photo as solved, for a picture of the given size (px); null where the solve has not placed it. */
export function findCamera(
  solution: Solution,
  photo: Photo,
  { widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number },
): Camera | null {
  const pose = solution.photos.find(({ id }) => id === photo.id);
  if (!pose) return null;
  const { k1 = 0, k2 = 0 } = solution.phones.find(({ id }) => id === photo.phone) ?? {};
  const { position, rotationRad, focalPx } = pose;
  return { position, rotationRad, focalPx, k1, k2, widthPx, heightPx };
}
