import type { Photo, Stand } from '../survey.ts';
import { withTapeMarks } from '../tape/tapeMarks.ts';

/**
 * The photos of a survey by where they were taken from: those said to be of one unmoved phone together, in the order of the first of
 * each, every other one by itself. Photos of one name go together where phone, picture size and focal length are the same, as they
 * must be if nothing was touched.
 */
export function groupPhotos(photos: readonly Photo[]): Photo[][] {
  const groups: Photo[][] = [];
  for (const photo of photos) {
    const group = groups.find(([first]) => isOneStation(first!, photo));
    if (group) group.push(photo);
    else groups.push([photo]);
  }
  return groups;
}

/** The other photos taken from the same place as this one by the same unmoved phone, without those left out by hand. */
export function listFellows(photos: readonly Photo[], photo: Photo): Photo[] {
  return photos.filter((other) => other.id !== photo.id && !other.leftOut && isOneStation(photo, other));
}

/** Whether a photo bears the name of an unmoved phone that took the first photo of that name, but cannot be of it. */
export function isStranger(photos: readonly Photo[], photo: Photo): boolean {
  const first = photos.find(({ station, leftOut }) => station === photo.station && !leftOut);
  return photo.station !== undefined && first !== undefined && first !== photo && !isOneStation(first, photo);
}

function isOneStation(one: Photo, other: Photo): boolean {
  // what is not noted yet speaks against nothing
  const same = (a: number | null | undefined, b: number | null | undefined) => !a || !b || a === b;
  return (
    one.station !== undefined &&
    one.station === other.station &&
    one.phone === other.phone &&
    same(one.widthPx, other.widthPx) &&
    same(one.heightPx, other.heightPx) &&
    same(one.focal35Mm, other.focal35Mm)
  );
}

/**
 * A photo with all that its fellows tell of where it was taken from: after its own marks (clicked, then its tapes' graduations) theirs,
 * each with where it comes `of`, and the stand as measured for any of them.
 */
export function poolEvidence(photo: Photo, fellows: readonly Photo[]): Photo {
  const own = withTapeMarks(photo);
  if (fellows.length === 0) return own;
  const theirs = fellows.flatMap((fellow) =>
    withTapeMarks(fellow).marks.map((mark, index) => ({
      ...mark,
      of: { photo: fellow.id, index: mark.only ? -1 : index },
    })),
  );
  return { ...own, marks: [...own.marks, ...theirs], stand: poolStands([photo, ...fellows]) };
}

/**
 * One stand of several photos of an unmoved phone: of each measure the mean of what was measured, to the largest sigma of those that
 * measured anything, since the second measurement errs as the first did.
 * @example poolStands([{ stand: { off: 2500, up: null, along: null, sigma: 10 } }, { stand: { off: 2510, up: 1500, along: null, sigma: 5 } }]).off // 2505
 */
export function poolStands(photos: readonly Pick<Photo, 'stand'>[]): Stand {
  const stands = photos.map(({ stand }) => stand);
  const measured = stands.filter(({ off, up, along }) => off !== null || up !== null || along !== null);
  const mean = (part: 'off' | 'up' | 'along') => {
    const values = [...new Set(stands.map((stand) => stand[part]))].filter((value) => value !== null);
    return values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;
  };
  return {
    off: mean('off'),
    up: mean('up'),
    along: mean('along'),
    sigma: Math.max(...(measured.length > 0 ? measured : stands).map(({ sigma }) => sigma)),
  };
}
