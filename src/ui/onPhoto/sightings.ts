import type { Solved } from '../../app/solved.ts';
import type { Photo } from '../../core/survey.ts';
import { rankFits, sightPhoto, type PhotoFit, type Sighting } from '../../draw/onPhoto/photoSight.ts';

/** How one photo sees the wall. */
export interface PhotoSighting {
  readonly photo: Photo;
  readonly sighting: Sighting;
}

const known = new WeakMap<Solved, readonly PhotoSighting[]>();

/** How each photo of a solved survey sees the wall, made once for each result; none without a plan. */
export function sightAll(solved: Solved | null): readonly PhotoSighting[] {
  if (!solved?.plan) return [];
  const before = known.get(solved);
  if (before) return before;
  const { of: survey, solution, plan } = solved;
  const made = survey.photos.map((photo): PhotoSighting => {
    const { widthPx, heightPx } = photo;
    // a picture that was never opened has not been placed
    if (!widthPx || !heightPx) return { photo, sighting: { ok: false, why: { code: 'not_placed' } } };
    return { photo, sighting: sightPhoto({ survey, solution, plan }, photo, { widthPx, heightPx }) };
  });
  known.set(solved, made);
  return made;
}

/** A photo that can be drawn on. */
export interface DrawablePhoto {
  readonly photo: Photo;
  readonly fit: PhotoFit;
}

/** The photos that can be drawn on, the one that shows the wall best first. */
export function rankPhotos(sightings: readonly PhotoSighting[]): DrawablePhoto[] {
  return rankFits(
    sightings.flatMap(({ photo, sighting }) => (sighting.ok ? [{ photo, fit: sighting.fit }] : [])),
  );
}
