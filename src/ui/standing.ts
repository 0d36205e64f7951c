import type { PlaceName } from '../app/place.svelte.ts';
import { canSolve, type freshness } from '../app/solved.ts';
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
  photo.lines.filter((line) => line.points.length === 0).length;

/**
 * What a photo still needs before it can measure, in one phrase; null when nothing.
 */
export function photoNeeds(photo: Photo): string | null {
  const { stand } = photo;
  if (photo.lines.length === 0) return 'say which line it shows';
  const line = photo.lines.find((each) => each.sheet.at === null);
  if (line) return line.sheet.axis === 'level' ? 'type the height of the line' : 'type where the line stands';
  if (photo.marks.length < 2) return photo.marks.length === 0 ? 'set marks on the tape' : 'set one more mark';
  if (photo.marks.length < 4 && (stand.off === null || (stand.up === null && stand.along === null)))
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

function readingsStanding({ readings }: Survey): Standing {
  if (readings.length >= 3) return { needs: false, line: count(readings.length, 'reading') };
  const missing = count(3 - readings.length, 'more reading');
  return { needs: true, line: readings.length === 0 ? 'Take at least 3 rule readings' : `Take ${missing}` };
}

function photosStanding({ photos }: Survey): Standing {
  if (photos.length === 0) return { needs: true, line: 'Add photos of the laser line' };
  const waiting = photos.filter((photo) => photoNeeds(photo) === 'find the line').length;
  const first = photos.find((photo) => ![null, 'find the line'].includes(photoNeeds(photo)));
  if (first) return { needs: true, line: `${first.id}: ${photoNeeds(first)}` };
  if (waiting > 0) return { needs: true, line: `Find the line in ${count(waiting, 'photo')}` };
  return { needs: false, line: `${count(photos.length, 'photo')}, every line found` };
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
