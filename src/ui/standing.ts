import type { PlaceName } from '../app/place.svelte.ts';
import { canSolve, type freshness } from '../app/solved.ts';
import { listFellows, poolStands } from '../core/camera/fixedPhone.ts';
import type { Photo, Survey } from '../core/survey.ts';
import { formatLength } from './units.ts';

/** Where a place stands, in one line: what is still missing (`needs`), or what is there. */
export interface Standing {
  readonly needs: boolean;
  readonly line: string;
}

const count = (number: number, one: string, many = `${one}s`) => `${number} ${number === 1 ? one : many}`;

/** Lines of a photo that were not looked for yet, or not found. */
export const emptyLines = (photo: Photo): number =>
  photo.lines.filter((line) => !line.leftOut && line.points.length === 0).length;

/**
 * What a photo still needs before it can measure, in one phrase; null when nothing. Of the survey's `photos` those by the same unmoved
 * phone count with it.
 */
export function photoNeeds(photo: Photo, photos: readonly Photo[] = []): string | null {
  const fellows = listFellows(photos, photo);
  const together = [photo, ...fellows];
  if (photo.lines.length === 0) return fellows.length > 0 ? null : 'say which line it shows';
  const line = photo.lines.find((each) => !each.leftOut && each.sheet.at === null);
  if (line) return line.sheet.axis === 'level' ? 'type the height of the line' : 'type where the line stands';
  const marks = together.flatMap((each) => each.marks.filter(({ leftOut }) => !leftOut)).length;
  if (marks < 2) return marks === 0 ? 'set marks on the tape' : 'set one more mark';
  const stand = poolStands(together);
  if (marks < 4 && (stand.off === null || (stand.up === null && stand.along === null)))
    return 'type where the phone stood';
  if (emptyLines(photo) > 0) return 'find the line';
  return null;
}

function wallStanding({ wall, units }: Survey): Standing {
  const parts = [`${formatLength(wall.width, units)} wide, ${formatLength(wall.height, units)} high`];
  if (wall.openings.length > 0) parts.push(count(wall.openings.length, 'opening'));
  if (wall.boxes.length > 0) parts.push(count(wall.boxes.length, 'box', 'boxes'));
  return { needs: false, line: parts.join(', ') };
}

const leftOutWords = (items: readonly { readonly leftOut?: boolean | undefined }[]) => {
  const number = items.filter(({ leftOut }) => leftOut).length;
  return number === 0 ? '' : `, ${number} left out`;
};

function readingsStanding({ readings }: Survey): Standing {
  const used = readings.filter(({ leftOut }) => !leftOut).length;
  if (used >= 3)
    return { needs: false, line: `${count(readings.length, 'reading')}${leftOutWords(readings)}` };
  const missing = count(3 - used, 'more reading');
  return { needs: true, line: readings.length === 0 ? 'Take at least 3 rule readings' : `Take ${missing}` };
}

function photosStanding({ photos }: Survey): Standing {
  if (photos.length === 0) return { needs: true, line: 'Add photos of the laser line' };
  const wanted = photos.filter(({ leftOut }) => !leftOut);
  const waiting = wanted.filter((photo) => photoNeeds(photo, photos) === 'find the line').length;
  const first = wanted.find((photo) => ![null, 'find the line'].includes(photoNeeds(photo, photos)));
  if (first) return { needs: true, line: `${first.id}: ${photoNeeds(first, photos)}` };
  if (waiting > 0) return { needs: true, line: `Find the line in ${count(waiting, 'photo')}` };
  return { needs: false, line: `${count(photos.length, 'photo')}${leftOutWords(photos)}, every line found` };
}

function surfaceStanding(survey: Survey, state: ReturnType<typeof freshness>): Standing {
  if (state === 'fresh' || state === 'replan') return { needs: false, line: 'Solved from all that is known' };
  if (!canSolve(survey)) return { needs: true, line: 'Bring a found line or 3 readings' };
  return { needs: true, line: state === 'old' ? 'The survey changed: solve again' : 'Ready to solve' };
}

/** The one line of every place of a survey. */
export function standingOf(
  survey: Survey,
  state: ReturnType<typeof freshness>,
  planned: boolean,
): Record<Exclude<PlaceName, 'surveys'>, Standing> {
  const surface = surfaceStanding(survey, state);
  const waiting: Standing = { needs: true, line: surface.needs ? 'Needs the surface' : 'Needs a plan' };
  return {
    wall: wallStanding(survey),
    readings: readingsStanding(survey),
    photos: photosStanding(survey),
    surface,
    lining:
      planned && state === 'fresh' ? { needs: false, line: 'Bed plane, boards and screws set out' } : waiting,
    papers:
      planned && state === 'fresh'
        ? { needs: false, line: 'Drawing, screw list and survey ready' }
        : { needs: true, line: 'The survey can be saved; drawings need the plan' },
  };
}

/** The first place, in the order of the work, that still needs something; null when none does. */
export function nextPlace(standing: Record<Exclude<PlaceName, 'surveys'>, Standing>): PlaceName | null {
  const order = ['wall', 'readings', 'photos', 'surface', 'lining'] as const;
  return order.find((place) => standing[place].needs) ?? null;
}
