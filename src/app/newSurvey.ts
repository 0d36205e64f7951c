import type { LaserColour, Lining, LineAxis, Photo, Survey } from '../core/survey.ts';

/**
 * The first id `<letter><number>` that no item has.
 * @example freeId('r', [{ id: 'r1' }, { id: 'r3' }]) // 'r2'
 */
export function freeId(letter: string, items: readonly { readonly id: string }[]): string {
  const taken = new Set(items.map((item) => item.id));
  let number = 1;
  while (taken.has(`${letter}${number}`)) number++;
  return `${letter}${number}`;
}

/** A phone of which nothing is known yet: k1 within 0.01 of none, as phones' own pictures are. */
export const unknownPhone = { id: 'p1', name: 'Phone', lens: { k1: null, sigma: 0.01 } } as const;

/** Bed limits that a survey starts with (mm): common practice, no source. */
export const usualBed: Lining['bed'] = { min: 5, max: 20, packedMax: 40 };

/** The lining that a survey starts with: boards and bed as common. */
export const usualLining: Lining = { board: { width: 1200, length: 2400, thickness: 12.5 }, bed: usualBed };

/** A survey with a wall and nothing measured yet; board, bed and sigmas are common practice, no source, and can be changed. */
export function makeSurvey(
  title: string,
  widthMm: number,
  heightMm: number,
  units: Survey['units'],
  lining = usualLining,
): Survey {
  return {
    format: 'bedplane-survey',
    version: 1,
    title,
    units,
    wall: { width: widthMm, height: heightMm, side: 'internal', openings: [], boxes: [] },
    phones: [unknownPhone],
    readings: [],
    photos: [],
    lining,
  };
}

/** What is known of a picture when it is first added. */
export interface PictureFacts {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focal35Mm: number | null;
}

/** The survey with a photograph added at its end, and a phone for it when the survey has none. */
export function addPhoto(survey: Survey, photo: Photo): Survey {
  const phones = survey.phones.length > 0 ? survey.phones : [unknownPhone];
  return { ...survey, phones, photos: [...survey.photos, photo] };
}

/** What the next photo most likely shows: a line that runs as in the photo before, of the same laser; level and green without one. */
function likelyLine({ photos }: Survey): { readonly axis: LineAxis; readonly colour: LaserColour } {
  const line = photos.at(-1)?.lines[0];
  return { axis: line?.sheet.axis ?? 'level', colour: line?.colour ?? 'green' };
}

/**
 * A photograph newly added to a survey: one line of it to look for, marks and stand still to bring. Of the photo before it takes
 * the phone, the laser's colour and the way the line runs, unless told.
 */
export function makePhoto(
  survey: Survey,
  file: string,
  facts: PictureFacts,
  line = likelyLine(survey),
  phone = survey.photos.at(-1)?.phone ?? survey.phones[0]?.id ?? unknownPhone.id,
): Photo {
  return {
    id: freeId('f', survey.photos),
    file,
    phone,
    stand: { off: null, up: null, along: null, sigma: 10 },
    marks: [],
    tapes: [],
    masks: [],
    lines: [{ id: 'l1', colour: line.colour, sheet: { axis: line.axis, at: null }, points: [], gaps: [] }],
    widthPx: facts.widthPx,
    heightPx: facts.heightPx,
    focal35Mm: facts.focal35Mm,
  };
}

/**
 * A file name inside the survey's photos folder that no photo has yet: the given name made plain, numbered when taken.
 * @example freePhotoFile('Wand 1.JPG', []) // 'photos/Wand-1.jpg'
 */
export function freePhotoFile(name: string, photos: readonly Pick<Photo, 'file' | 'laserOff'>[]): string {
  const dot = name.lastIndexOf('.');
  const stem =
    (dot > 0 ? name.slice(0, dot) : name).replace(/[^\p{L}\p{N}_-]+/gu, '-').replace(/^-+|-+$/g, '') ||
    'photo';
  const ending = (dot > 0 ? name.slice(dot) : '.jpg').toLowerCase().replace(/[^.a-z0-9]/g, '');
  const taken = new Set(photos.flatMap(({ file, laserOff }) => [file, laserOff]));
  for (let number = 1; ; number++) {
    const file = `photos/${stem}${number === 1 ? '' : `-${number}`}${ending}`;
    if (!taken.has(file)) return file;
  }
}
