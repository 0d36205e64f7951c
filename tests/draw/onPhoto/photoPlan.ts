// The worked plan before a made camera: what is drawn onto a photograph, without one.
import type { PhotoPose } from '../../../src/core/results.ts';
import type { Photo } from '../../../src/core/survey.ts';
import { sightPhoto, type PlanOfWall, type PictureSize } from '../../../src/draw/onPhoto/photoSight.ts';
import { workedPlan } from '../workedPlan.ts';

export const size: PictureSize = { widthPx: 4000, heightPx: 3000 };

/** Stands a little left of the middle, above it, turned to the right and down: the wall fills most of the picture. */
export const standing: Partial<PhotoPose> = {
  position: { along: 1500, up: 1700, out: 2750 },
  rotationRad: [0.12, -0.05, 0.01],
  focalPx: 2940,
};

/** The worked plan with photo f1 placed as told. */
export function photoPlan(pose: Partial<PhotoPose> = standing, k1 = -0.012): PlanOfWall & { photo: Photo } {
  const { survey, solution, plan } = workedPlan();
  const photos = solution.photos.map((each) => (each.id === 'f1' ? { ...each, ...pose } : each));
  const phones = solution.phones.map((each) => ({ ...each, k1 }));
  return { survey, solution: { ...solution, photos, phones }, plan, photo: survey.photos[0]! };
}

/** Photo f1 of a plan as placed. @throws where nothing can be drawn on it */
export function sightOf(wall: ReturnType<typeof photoPlan>) {
  const sighting = sightPhoto(wall, wall.photo, size);
  if (!sighting.ok) throw new Error(sighting.why.code);
  return sighting;
}
