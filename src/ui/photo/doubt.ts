import { listBlunders, type Blunder } from '../../core/camera/blunder.ts';
import { poolEvidence } from '../../core/camera/fixedPhone.ts';
import type { Phone, Photo, Reading } from '../../core/survey.ts';
import { listTapeMarks } from '../../core/tape/tapeMarks.ts';
import { placePhoto, readPrior, spreadMarks, type Placing } from './measure.ts';

/** Whether a photo's marks, stand and focal length agree; if not, each single mistake that would explain it. */
export interface Doubt {
  readonly agrees: boolean;
  readonly blunders: readonly Blunder[];
  /** Marks to look at again. */
  readonly marks: readonly number[];
  /** Tapes whose graduations do not agree with the rest. */
  readonly tapes: readonly number[];
  /** Other photos by the same unmoved phone of which a mark would explain it. */
  readonly fellows: readonly string[];
  /** The photo, this one or a fellow, that the phone seems to have been moved for; null = none. */
  readonly moved: string | null;
}

const NO_DOUBT: Doubt = { agrees: true, blunders: [], marks: [], tapes: [], fellows: [], moved: null };
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
 * What a photo's evidence does not agree in, its fellows by the same unmoved phone with it. Until the whole wall is solved nobody knows how
 * far off the laser's plane each mark lies, so a mark may be out by what the wall's relief moves it in the picture.
 */
export function doubtPlacing(
  photo: Photo,
  lens: Phone['lens'],
  outMm: number,
  reliefMm: number,
  placing: Placing,
  fellows: readonly Photo[] = [],
): Doubt {
  if (!placing.resection) return NO_DOUBT;
  const { resection } = placePhoto(photo, lens, outMm, reliefMm, fellows);
  if (!resection) return NO_DOUBT;
  const pooled = poolEvidence(photo, fellows);
  const ownerOf = (index: number) => pooled.marks[index]!.of?.photo ?? photo.id;
  const own = resection.suspectMarks.filter((index) => ownerOf(index) === photo.id);
  const clicked = own.filter((index) => index < photo.marks.length);
  const tapeMarks = listTapeMarks(photo);
  const tapes = [
    ...new Set(
      own
        .filter((index) => index >= photo.marks.length)
        .map((index) => tapeMarks[index - photo.marks.length]!.tape),
    ),
  ];
  const turned = resection.moved[0];
  const moved = turned && turned.overLimit > 1 ? turned.photo : null;
  if (resection.agrees) return { ...NO_DOUBT, agrees: moved === null, marks: clicked, tapes, moved };
  const all = listBlunders(pooled, readPrior(lens), spreadMarks(pooled.marks, outMm, reliefMm));
  const named = all.flatMap(listMarks);
  const blunders = all.filter((blunder) => listMarks(blunder).every((index) => ownerOf(index) === photo.id));
  return {
    agrees: false,
    blunders,
    marks: all.length > 0 ? named.filter((index) => ownerOf(index) === photo.id) : clicked,
    tapes,
    fellows: [...new Set(named.map(ownerOf))].filter((id) => id !== photo.id),
    moved: all.length > 0 ? null : moved,
  };
}

function listMarks(blunder: Blunder): number[] {
  if (blunder.kind === 'swapped') return [blunder.first, blunder.second];
  return blunder.kind === 'mark' ? [blunder.mark] : [];
}
