import { listBlunders, type Blunder } from '../../core/camera/blunder.ts';
import { imageFromWall, type Camera } from '../../core/camera/camera.ts';
import type { Mark, Phone, Photo, Reading } from '../../core/survey.ts';
import { listTapeMarks } from '../../core/tape/tapeMarks.ts';
import { placePhoto, type Placing } from './measure.ts';

/** Whether a photo's marks, stand and focal length agree; if not, each single mistake that would explain it. */
export interface Doubt {
  readonly agrees: boolean;
  readonly blunders: readonly Blunder[];
  /** Marks to look at again. */
  readonly marks: readonly number[];
  /** Tapes whose graduations do not agree with the rest. */
  readonly tapes: readonly number[];
}

const NO_DOUBT: Doubt = { agrees: true, blunders: [], marks: [], tapes: [] };
/** Standard deviation of an uneven wall about its mean where nothing was read yet (mm); common practice, no source. */
const RELIEF_MM = 8;
const LEAST_RELIEF_MM = 3;

/** Standard deviation of the wall about its mean by the readings (mm), not under 3; 8 with fewer than three. */
export function guessReliefMm(readings: readonly Reading[]): number {
  if (readings.length < 3) return RELIEF_MM;
  const mean = readings.reduce((sum, reading) => sum + reading.distance, 0) / readings.length;
  const square = readings.reduce((sum, reading) => sum + (reading.distance - mean) ** 2, 0);
  return Math.max(LEAST_RELIEF_MM, Math.sqrt(square / (readings.length - 1)));
}

/**
 * What a photo's evidence does not agree in. Until the whole wall is solved nobody knows how far off the laser's plane each
 * mark lies, so a mark may be out by what the wall's relief moves it in the picture.
 */
export function doubtPlacing(
  photo: Photo,
  lens: Phone['lens'],
  outMm: number,
  reliefMm: number,
  placing: Placing,
): Doubt {
  if (!placing.resection) return NO_DOUBT;
  const { camera } = placing.resection;
  const tapeMarks = listTapeMarks(photo);
  const all = [...photo.marks, ...tapeMarks.map(({ mark }) => mark)];
  const marks = all.map((mark) => ({
    ...mark,
    sigma: Math.hypot(mark.sigma, reliefMm * shiftPerMm(camera, mark, outMm)),
  }));
  // with the tapes' graduations among the marks already
  const loose = { ...photo, marks, tapes: [] };
  const { resection } = placePhoto(loose, lens, outMm);
  if (!resection) return NO_DOUBT;
  const clicked = resection.suspectMarks.filter((index) => index < photo.marks.length);
  const graduated = resection.suspectMarks.filter((index) => index >= photo.marks.length);
  const tapes = [...new Set(graduated.map((index) => tapeMarks[index - photo.marks.length]!.tape))];
  if (resection.agrees) return { ...NO_DOUBT, marks: clicked, tapes };
  const prior = { k1: lens.k1 ?? 0, sigma: lens.sigma };
  const blunders = listBlunders(loose, prior, { markOutMm: marks.map(() => outMm) });
  const named = blunders.flatMap((blunder) => {
    if (blunder.kind === 'swapped') return [blunder.first, blunder.second];
    return blunder.kind === 'mark' ? [blunder.mark] : [];
  });
  return { agrees: false, blunders, marks: blunders.length > 0 ? named : clicked, tapes };
}

/** How far a mark moves in the picture (px) for a mm that the wall comes out under it. */
function shiftPerMm(camera: Camera, { along, up }: Mark, out: number): number {
  const here = imageFromWall(camera, { along, up, out });
  const nearer = imageFromWall(camera, { along, up, out: out + 1 });
  return Math.hypot(nearer.u - here.u, nearer.v - here.v);
}
