import { CRITICAL_W } from '../checks/baarda.ts';
import { listBlunders, swapPlaces, type Blunder } from '../camera/blunder.ts';
import { checkMarkPlaces } from '../camera/evidenceCheck.ts';
import { poolEvidence } from '../camera/fixedPhone.ts';
import { resectPhoto, type Resection } from '../camera/resect.ts';
import { Refused, type Refusal, type WarningCode } from '../refusal.ts';
import type { Mark, Photo, Survey } from '../survey.ts';
import { readLens } from './network.ts';

/** The place that photos of one unmoved phone, or one photo alone, were taken from. */
export interface Placement {
  readonly photos: readonly Photo[];
  readonly resection: Resection;
  /** The first of the photos with the evidence of all, without what is left out by hand. */
  readonly pooled: Photo;
  /** Its marks that contradict the rest, and the measure of the stand that does. */
  readonly wrongMarks: readonly Mark[];
  readonly wrongStand: 'off' | 'up' | 'along' | null;
}

/** A photo that cannot take part, and what stops it; `suspect` where its evidence contradicts itself. */
export interface Stopped {
  readonly photo: Photo;
  readonly refusal: Refusal;
  readonly suspect: WarningCode | null;
}

/** What comes of placing some photos, and which of them were knocked between pictures. */
export interface Placed {
  readonly placements: readonly Placement[];
  readonly stopped: readonly Stopped[];
  readonly moved: readonly Photo[];
}

/** How far the wall may lie off its first guess before it is solved, mm (sigma): what a mark's offset is not known to. */
const RELIEF_MM = 10;
/** Photos whose tests are within this share of each other cannot be told apart: the later one is taken to have moved. */
const ALIKE_SHARE = 0.05;

/**
 * Where some photos of one unmoved phone were taken from, one mistake mended where it explains why they contradict each other (a mark, two
 * marks swapped, a measure of the stand); a photo whose marks lie aside of the others' is placed by itself.
 */
export function placePhotos(
  survey: Survey,
  photos: readonly Photo[],
  startOffset: (alongMm: number, upMm: number) => number,
): Placed {
  const checked = photos.map((photo) => ({ photo, refusal: checkPhoto(photo) }));
  const stopped = checked.flatMap(({ photo, refusal }) =>
    refusal ? [{ photo, refusal, suspect: null }] : [],
  );
  const sound = checked.filter(({ refusal }) => !refusal).map(({ photo }) => photo);
  if (sound.length === 0) return { placements: [], stopped, moved: [] };
  const outcome = placeTogether(survey, sound, startOffset);
  if ('moved' in outcome) {
    const { moved } = outcome;
    const parts = [sound.filter((photo) => photo !== moved), [moved]].map((part) =>
      placePhotos(survey, part, startOffset),
    );
    return {
      placements: parts.flatMap((part) => part.placements),
      stopped: [...stopped, ...parts.flatMap((part) => part.stopped)],
      moved: [moved, ...parts.flatMap((part) => part.moved)],
    };
  }
  if ('resection' in outcome) return { placements: [outcome], stopped, moved: [] };
  const all = sound.map((photo) => ({ photo, ...outcome }));
  return { placements: [], stopped: [...stopped, ...all], moved: [] };
}

/** What keeps a photo from taking part whatever else is known. */
function checkPhoto(photo: Photo): Refusal | null {
  if (!(photo.widthPx! > 0 && photo.heightPx! > 0))
    return { code: 'photo_missing', photo: photo.id, file: photo.file };
  return checkMarkPlaces(photo);
}

function placeTogether(
  survey: Survey,
  photos: readonly Photo[],
  startOffset: (alongMm: number, upMm: number) => number,
): Placement | { readonly moved: Photo } | Omit<Stopped, 'photo'> {
  const pooled = pool(photos);
  const lens = readLens(survey, pooled.phone);
  const describeMarks = ({ marks }: Photo) => ({
    markOutMm: marks.map(({ along, up }) => startOffset(along, up)),
    markOutSigmaMm: RELIEF_MM,
  });
  let suspect: WarningCode | null = null;
  try {
    const resection = resectPhoto(pooled, lens, describeMarks(pooled));
    const placement = { photos, pooled, wrongMarks: [], wrongStand: null };
    if (resection.agrees) {
      const moved = findTurned(photos, resection);
      return moved ? { moved } : { ...placement, resection };
    }
    suspect = 'marks_suspect';
    const [blunder] = listBlunders(pooled, lens, describeMarks(pooled));
    if (!blunder) {
      const moved = findMoved(photos, (rest) => resectPhoto(rest, lens, describeMarks(rest)).agrees);
      if (moved) return { moved };
      return { suspect, refusal: { code: 'stand_weak', photo: pooled.id, offsetSigmaMm: Infinity } };
    }
    if (blunder.kind === 'stand') suspect = 'stand_suspect';
    const mended = mend(pooled, blunder);
    return {
      ...placement,
      resection: resectPhoto(mended, lens, describeMarks(mended)),
      wrongMarks: pooled.marks.filter((mark) => !mended.marks.includes(mark)),
      wrongStand: blunder.kind === 'stand' ? blunder.measure : null,
    };
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    return { refusal: error.refusal, suspect };
  }
}

/** The first of some photos with the evidence of all: marks, stand, and (for which of two places is the likelier) lines and packers. */
function pool(photos: readonly Photo[]): Photo {
  const [first, ...fellows] = photos;
  const { marks, ...pooled } = poolEvidence(first!, fellows);
  const rename = (photo: Photo, line: string) => `${photo.id}/${line}`;
  const lines = fellows.flatMap((photo) =>
    photo.lines.map((line) => ({ ...line, id: rename(photo, line.id) })),
  );
  const blocks = fellows.flatMap((photo) =>
    (photo.blocks ?? []).map((block) => ({ ...block, line: rename(photo, block.line) })),
  );
  return {
    ...pooled,
    marks: marks.filter(({ leftOut }) => !leftOut),
    lines: [...pooled.lines, ...lines],
    blocks: [...(pooled.blocks ?? []), ...blocks],
  };
}

/** The photo that was taken with the phone turned, more plainly than any one mark is wrong; the last of several alike. */
function findTurned(photos: readonly Photo[], { moved, markResiduals }: Resection): Photo | null {
  const worst = moved[0]?.overLimit ?? 0;
  if (worst <= 1 || markResiduals.some(({ w }) => (w / CRITICAL_W) ** 2 > worst)) return null;
  const alike = moved
    .filter(({ overLimit }) => overLimit > (1 - ALIKE_SHARE) * worst)
    .map(({ photo }) => photo);
  return photos.findLast(({ id }) => alike.includes(id)) ?? null;
}

/** The last photo with marks without which the others agree; the very last where no one photo explains it; null for a single one. */
function findMoved(photos: readonly Photo[], agrees: (rest: Photo) => boolean): Photo | null {
  const marked = photos.filter((photo) => photo.marks.some(({ leftOut }) => !leftOut));
  if (marked.length < 2) return null;
  const tried = marked.findLast((moved) => {
    try {
      return agrees(pool(photos.filter((photo) => photo !== moved)));
    } catch (error) {
      if (error instanceof Refused) return false;
      throw error;
    }
  });
  return tried ?? marked.at(-1)!;
}

/** The photo as it would be without a mistake: the mark not there, two marks exchanged, or that measure of the stand unknown. */
function mend(photo: Photo, blunder: Blunder): Photo {
  if (blunder.kind === 'stand') return { ...photo, stand: { ...photo.stand, [blunder.measure]: null } };
  const { marks } = photo;
  if (blunder.kind === 'swapped')
    return { ...photo, marks: swapPlaces(marks, blunder.first, blunder.second) };
  return { ...photo, marks: marks.filter((_, index) => index !== blunder.mark) };
}
