import { expectPhoto } from '../../core/camera/expectation.ts';
import type { Photo, Survey } from '../../core/survey.ts';
import { expectLine } from './measure.ts';

/** A phone's main camera where a picture does not tell its focal length (mm); how far aside one stands at least. */
const USUAL_FOCAL_MM = 26;
const LEAST_ASIDE = 1 / 3;
const POINT_SIGMA_PX = 0.15;

/**
 * What a picture can show before anything is measured in it: its size, the mm of wall to a pixel and how well one point's
 * offset will be seen; null while its size is not known. Without a measured stand, as if it shows the wall's whole length
 * and was taken from a third of the distance aside.
 */
export function describePicture(survey: Pick<Survey, 'wall'>, photo: Photo): string | null {
  const { widthPx, heightPx, stand, lines } = photo;
  if (widthPx === undefined || heightPx === undefined) return null;
  const longSidePx = Math.max(widthPx, heightPx);
  const measured = lines.map((line) => expectLine(photo, line, longSidePx)).find((each) => each !== null);
  const focal35Mm = photo.focal35Mm || USUAL_FOCAL_MM;
  const offMm = stand.off ?? (survey.wall.width * focal35Mm) / 36;
  const guess = { offMm, asideMm: LEAST_ASIDE * offMm, focal35Mm, longSidePx, pointSigmaPx: POINT_SIGMA_PX };
  const { mmPerPx, pointMm } = measured ?? expectPhoto(guess);
  return `${widthPx} × ${heightPx} px, about ${mmPerPx.toFixed(1)} mm of wall to a pixel: expect ±${pointMm.toFixed(1)} mm at a point`;
}
