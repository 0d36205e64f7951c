import type { PhoneLens, PhotoPose, Solution } from '../../core/results.ts';
import type { Phone, Survey } from '../../core/survey.ts';

/**
 * How far a lens moves the corner of its pictures (px, negative = inwards), found and assumed, each with its sigma: NaN where k1 and k2
 * were found together, since what is not known of one is made up by the other.
 */
export interface LensBow {
  readonly phone: Phone;
  readonly lens: PhoneLens;
  readonly foundPx: number;
  readonly foundSigmaPx: number;
  /** What was known before; 0 where nothing was. */
  readonly assumedPx: number;
  readonly assumedSigmaPx: number;
}

/**
 * The bow at a picture's corner, of each phone whose pictures took part: focal length times (k1 r^3 + k2 r^5) with r the corner's distance
 * from the picture's middle over the focal length (Brown 1971, radial terms).
 */
export function listLensBows(survey: Survey, { phones, photos }: Solution): LensBow[] {
  return phones.flatMap((lens): LensBow[] => {
    const phone = survey.phones.find(({ id }) => id === lens.id);
    const seen = phone && findPicture(survey, photos, phone.id);
    if (!phone || !seen) return [];
    const { focalPx, cornerPx } = seen;
    const r = cornerPx / focalPx;
    const bow = (k1: number, k2 = 0) => focalPx * (k1 * r ** 3 + k2 * r ** 5);
    const { k1, k2, sigma } = phone.lens;
    return [
      {
        phone,
        lens,
        foundPx: bow(lens.k1, lens.k2),
        foundSigmaPx: lens.k2 === undefined ? bow(lens.sigma) : NaN,
        assumedPx: bow(k1 ?? 0, k2),
        assumedSigmaPx: bow(sigma),
      },
    ];
  });
}

/** Focal length and half the diagonal (px) of a picture that a phone took. */
function findPicture(survey: Survey, poses: readonly PhotoPose[], phoneId: string) {
  for (const { id, focalPx } of poses) {
    const photo = survey.photos.find((each) => each.id === id);
    if (photo?.phone === phoneId && photo.widthPx && photo.heightPx)
      return { focalPx, cornerPx: Math.hypot(photo.widthPx, photo.heightPx) / 2 };
  }
  return null;
}
