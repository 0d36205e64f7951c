import type { NoDrawing, PhotoFit } from '../../draw/onPhoto/photoSight.ts';
import type { LiningPlan } from '../../core/results.ts';
import { sayFit } from '../../draw/onPhoto/photoCaption.ts';
import { formatLength, type Units } from '../units.ts';

/** Why there is no drawing on a photo, and what to do. */
export function sayNoDrawing(why: NoDrawing, photo: string, units: Units): string {
  switch (why.code) {
    case 'left_out':
      return `Photo ${photo} is left out, so where it was taken from is not known. Take it in again to draw on it.`;
    case 'not_placed':
      return `The solve does not know where photo ${photo} was taken from. It needs its line, its marks and where the phone stood; then solve again.`;
    case 'no_wall':
      return `As photo ${photo} was placed, it shows none of this wall. Check its marks.`;
    case 'fits_badly':
      return `Photo ${photo} is placed too badly to draw on: lines would lie up to ${formatLength(why.fitMm, units, 0)} off. Check its marks and where the phone stood, or use another photo.`;
  }
}

/** How well the drawing fits and how much of the wall the photo shows, in one line. */
export function sayPhotoFit(fit: PhotoFit, units: Units): string {
  return `${sayFit(fit, units)}; shows ${Math.round(100 * fit.share)} % of it`;
}

/** What the picture shows, for those who do not see it. */
export function describePicture(
  photo: string,
  plan: LiningPlan,
  screws: readonly string[],
  units: Units,
): string {
  const boards = plan.boards.map(({ id }) => id).join(', ');
  const beds = `bed depths up to ${formatLength(plan.maxBedMm, units, 0)}`;
  const seen = `${screws.length} of ${plan.screws.length} gauge screws`;
  return `Photo ${photo} with the plan drawn on it: boards ${boards}; ${seen}; ${beds}. All figures are in the screw list.`;
}

/** What the drawing has no room to say at this size. */
export function sayUnwritten(unwritten: readonly string[]): string {
  const names = unwritten.length > 8 ? `${unwritten.length} screws` : unwritten.join(', ');
  return `No room for the figures of ${names}: look nearer, or see the screw list.`;
}
