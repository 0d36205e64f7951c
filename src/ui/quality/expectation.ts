import { listFellows } from '../../core/camera/fixedPhone.ts';
import type { OffsetSigma } from '../../core/camera/offsetSigma.ts';
import { unknownPhone } from '../../app/newSurvey.ts';
import type { Photo, Survey } from '../../core/survey.ts';
import { doubtPlacing, guessReliefMm } from '../photo/doubt.ts';
import { meanOutMm, placePhoto, seeLine } from '../photo/measure.ts';

/** What one line of a photo is worth by the photo's own evidence. */
export interface ExpectedLine {
  readonly line: string;
  /** The wall's shape along it: after a shift and a tilt, with what the lens may bend (mm). */
  readonly shapeMm: number;
  /** Its offsets from the laser's plane by this photo alone (mm). */
  readonly aloneMm: number;
  readonly lensMm: number;
  /** Where its points are, mm along the line. */
  readonly s: Float64Array;
}

/** What a photo is worth before the whole wall is solved. */
export interface Expectation {
  readonly agrees: boolean;
  /** Marks that seem wrong. */
  readonly marks: readonly number[];
  readonly lines: readonly ExpectedLine[];
}

interface Remembered {
  readonly phones: Survey['phones'];
  readonly readings: Survey['readings'];
  readonly expectation: Expectation | null;
}
/** Photos are values: one that did not change, with phones and readings as they were, is worth what it was. */
const remembered = new WeakMap<Photo, Remembered>();

const shapeOf = ({ reliefMm, lensMm }: OffsetSigma) => Math.hypot(reliefMm, lensMm);

function expectNew(survey: Survey, photo: Photo, fellows: readonly Photo[]): Expectation | null {
  const { lens } = survey.phones.find(({ id }) => id === photo.phone) ?? unknownPhone;
  const outMm = meanOutMm(survey.readings);
  const reliefMm = guessReliefMm(survey.readings);
  const placing = placePhoto(photo, lens, outMm, reliefMm, fellows);
  if (!placing.resection) return null;
  const { agrees, marks } = doubtPlacing(photo, lens, outMm, reliefMm, placing, fellows);
  const lines = photo.lines.flatMap((line): ExpectedLine[] => {
    if (line.leftOut) return [];
    const { found, sigma } = seeLine(photo, line, placing);
    if (!found || !sigma) return [];
    const { aloneMm, lensMm } = sigma;
    return [{ line: line.id, shapeMm: shapeOf(sigma), aloneMm, lensMm, s: found.s }];
  });
  return { agrees, marks, lines };
}

/** What a photo is worth by its own marks, stand and lens, and by those of its fellows; null where it cannot be placed yet. */
export function expectQuality(survey: Survey, photo: Photo): Expectation | null {
  const { phones, readings } = survey;
  const fellows = listFellows(survey.photos, photo);
  const known = remembered.get(photo);
  if (fellows.length === 0 && known?.phones === phones && known.readings === readings)
    return known.expectation;
  const expectation = expectNew(survey, photo, fellows);
  if (fellows.length === 0) remembered.set(photo, { phones, readings, expectation });
  return expectation;
}
