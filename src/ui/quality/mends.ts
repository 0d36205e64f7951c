import { hashOfPlace } from '../../app/place.svelte.ts';
import type { Solution } from '../../core/results.ts';
import type { LaserLine, Photo, Survey } from '../../core/survey.ts';
import { photoNeeds } from '../standing.ts';
import { listDisagreements, type DisagreementGroup } from '../surface/disagreements.ts';
import { mendHash, nameLine, nameResidual, sayAmount } from '../surface/evidenceWords.ts';
import { formatLength } from '../units.ts';
import { expectQuality, type Expectation } from './expectation.ts';

/** What can be wrong with a photo, in the order in which mending gains most. */
export const mendKinds = ['missing', 'disagrees', 'unfound', 'uncertain', 'suspects'] as const;

/** One thing to put right in a photo: what is wrong in one sentence, and where it is mended. */
export interface Mend {
  readonly kind: (typeof mendKinds)[number];
  readonly photo: string;
  /** What mending may gain among its kind: mm of wall seen, or mm of error. */
  readonly gainMm: number;
  readonly sentence: string;
  readonly hash: string;
}

/** Offsets seen no better than this are worth mending, mm; as the warning of an uncertain surface has it. */
const UNCERTAIN_MM = 3;
/** Doubted points are worth a look from this share of a line on. */
const SUSPECT_SHARE = 0.02;
/** More of one photo than this fail together by one mistake. */
const MOST_NAMED = 3;

/**
 * What to mend first: by kind, then by gain, then in the order of the survey.
 * @example sortMends([]) // []
 */
export function sortMends(mends: readonly Mend[]): Mend[] {
  const rank = ({ kind }: Mend) => mendKinds.indexOf(kind);
  const gain = ({ gainMm }: Mend) => (Number.isNaN(gainMm) ? 0 : gainMm);
  return [...mends].sort((a, b) => rank(a) - rank(b) || gain(b) - gain(a));
}

const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);
const lengthAlong = ({ wall }: Survey, { sheet }: LaserLine) =>
  sheet.axis === 'level' ? wall.width : wall.height;
const lengthOf = (survey: Survey, lines: readonly LaserLine[]) =>
  lines.reduce((sum, line) => sum + lengthAlong(survey, line), 0);

/** Where what a photo still needs is brought. */
function partOfNeed(photo: Photo, needs: string): string {
  if (needs.includes('mark')) return 'marks';
  if (needs.includes('phone stood')) return 'stand';
  const line = photo.lines.find(
    ({ leftOut, sheet, points }) =>
      !leftOut && (needs === 'find the line' ? points.length === 0 : sheet.at === null),
  );
  return line ? `line ${line.id}` : 'marks';
}

function findMissing(survey: Survey, photo: Photo): Mend | null {
  const needs = photoNeeds(photo, survey.photos);
  if (needs === null) return null;
  const unfound = needs === 'find the line';
  const lines = photo.lines.filter(({ points }) => !unfound || points.length === 0);
  return {
    kind: unfound ? 'unfound' : 'missing',
    photo: photo.id,
    gainMm: lengthOf(survey, lines),
    sentence: unfound
      ? `Photo ${photo.id} has a line that was not found yet: look for it, or set points by hand.`
      : `Photo ${photo.id} takes no part yet: ${needs}.`,
    hash: hashOfPlace('photos', photo.id, partOfNeed(photo, needs)),
  };
}

function mendOfGroup(survey: Survey, { items, photo }: DisagreementGroup): Mend | null {
  const [first] = items;
  const id =
    photo ??
    survey.photos.find((each) => first && mendHash(survey, first.residual)?.includes(`/${each.id}/`))?.id;
  if (id === undefined) return null;
  const whole = !first || items.length > MOST_NAMED;
  const more = items.length > 1 ? ` ${items.length - 1} more of photo ${id} do not agree.` : '';
  const marks = hashOfPlace('photos', id, 'marks');
  return {
    kind: 'disagrees',
    photo: id,
    gainMm: Math.max(0, ...items.map(({ residual }) => Math.abs(residual.errorMm) || 0)),
    sentence: !first
      ? `Photo ${id} takes no part: its marks, the phone's place and the picture do not fit each other, or are too weak.`
      : whole
        ? `${items.length} things of photo ${id} do not agree with the rest: check what was typed for its marks.`
        : `${capital(nameResidual(survey, first.residual))} ${sayAmount(survey, first.residual)}.${more}`,
    hash: whole ? marks : (mendHash(survey, first.residual) ?? marks),
  };
}

/** A photo whose own marks and stand contradict each other, where no solve says which. */
function findContradiction({ id }: Photo, { agrees, marks }: Expectation): Mend | null {
  if (agrees) return null;
  const [first] = marks;
  return {
    kind: 'disagrees',
    photo: id,
    gainMm: 0,
    sentence:
      first === undefined
        ? `Photo ${id}: its marks and where the phone stood do not agree. Check what was typed.`
        : `Photo ${id}: its marks and where the phone stood do not agree. Look at mark ${first + 1} first.`,
    hash: hashOfPlace('photos', id, first === undefined ? 'stand' : `mark ${first + 1}`),
  };
}

/** What would let a photo see the wall better, and where that is done. */
function adviseUncertain({ id, stand, marks, lines }: Photo, shapeMm: number): [what: string, hash: string] {
  const level = lines.some(({ sheet }) => sheet.axis === 'level');
  if (stand.off === null || (level ? stand.up : stand.along) === null)
    return ['measure where the phone stood', hashOfPlace('photos', id, 'stand')];
  if (marks.filter(({ leftOut }) => !leftOut).length < 4)
    return ['set four marks or more, spread from end to end', hashOfPlace('photos', id, 'marks')];
  // its shape is known, its distance and lean are not
  if (shapeMm <= UNCERTAIN_MM) return ['take a reading or two beside its line', hashOfPlace('readings')];
  return ['take it again from further aside of the light', hashOfPlace('photos', id)];
}

function findUncertain(survey: Survey, photo: Photo, sigmaMm: number, shapeMm: number): Mend | null {
  if (!(sigmaMm > UNCERTAIN_MM)) return null;
  const [what, hash] = adviseUncertain(photo, shapeMm);
  return {
    kind: 'uncertain',
    photo: photo.id,
    gainMm: sigmaMm,
    sentence: `Photo ${photo.id} sees the wall to ±${formatLength(sigmaMm, survey.units)} only: ${what}.`,
    hash,
  };
}

function listSuspects(survey: Survey, photo: Photo): Mend[] {
  return photo.lines.flatMap((line): Mend[] => {
    const used = line.points.filter(({ state }) => state !== 'off');
    const suspects = used.filter(({ state }) => state === 'suspect').length;
    const share = suspects / used.length;
    if (line.leftOut || !(share >= SUSPECT_SHARE)) return [];
    return [
      {
        kind: 'suspects',
        photo: photo.id,
        gainMm: share * lengthAlong(survey, line),
        sentence: `${suspects} points (${Math.round(100 * share)} %) of the ${nameLine(survey, photo.id, line.id)} are doubted: accept or reject them.`,
        hash: hashOfPlace('photos', photo.id, `line ${line.id}`),
      },
    ];
  });
}

/**
 * What to put right in the photos of a survey, what gains most first: missing evidence, evidence that does not agree, lines not found,
 * photos that see the wall badly, doubted points. Where the wall is solved by its solution, else by each photo's own evidence. Photos
 * left out by hand are passed over.
 */
export function listMends(survey: Survey, solution: Solution | null): Mend[] {
  const solved = new Map(solution?.photos.map((pose) => [pose.id, pose]));
  const groups = solution ? listDisagreements(survey, solution) : [];
  const mends = groups
    .filter(({ kind }) => kind === 'line' || kind === 'photo')
    .map((group) => mendOfGroup(survey, group));
  const named = new Set(mends.map((mend) => mend?.photo));
  for (const photo of survey.photos) {
    if (photo.leftOut) continue;
    const missing = findMissing(survey, photo);
    mends.push(missing);
    if (missing?.kind === 'missing') continue;
    const expected = expectQuality(survey, photo);
    const pose = solved.get(photo.id);
    if (expected && !pose && !named.has(photo.id)) mends.push(findContradiction(photo, expected));
    const shapeMm = Math.max(0, ...(expected?.lines.map((line) => line.shapeMm) ?? []));
    mends.push(
      findUncertain(survey, photo, pose?.offsetSigmaMm ?? shapeMm, shapeMm),
      ...listSuspects(survey, photo),
    );
  }
  return sortMends(mends.filter((mend) => mend !== null));
}
