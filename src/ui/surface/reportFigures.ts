import { listLeftOut } from '../../app/editLeftOut.ts';
import type { Residual, Solution } from '../../core/results.ts';
import type { Photo, Survey } from '../../core/survey.ts';
import type { WhiskerRow } from '../../draw/whiskers.ts';
import { formatLength } from '../units.ts';
import { listDisagreements } from './disagreements.ts';
import { nameEvidence, nameResidual, sayAmount } from './evidenceWords.ts';

/** How much of one kind of evidence the surface rests on, of how much there is. */
export interface UsedCount {
  readonly name: string;
  readonly used: number;
  readonly of: number;
}

/** What the surface was made of. A photo takes part when it has a place; a mark, reading or line when it was not left out. */
export function countUsed(survey: Survey, { photos, profiles, residuals }: Solution): UsedCount[] {
  const placed = new Set(photos.map(({ id }) => id));
  const lines = survey.photos.flatMap((photo) => photo.lines);
  const marks = survey.photos.flatMap((photo) => photo.marks);
  const tapes = survey.photos.flatMap((photo) => photo.tapes);
  const seen = profiles.filter(({ s }) => s.length > 0);
  const points = lines.flatMap((line) => line.points);
  const out = (kind: Residual['kind']) =>
    new Set(
      residuals
        .filter((each) => each.kind === kind && (each.state === 'left_out' || each.state === 'by_hand'))
        .map(({ subject, index }) => `${subject} ${index ?? ''}`),
    ).size;
  const usedMarks = survey.photos
    .filter(({ id }) => placed.has(id))
    .flatMap((photo) => photo.marks.filter(({ leftOut }) => !leftOut));
  const graduations = residuals.filter(
    ({ kind, index, state }) => kind === 'mark' && index === -1 && state === 'used',
  );
  const phones = new Set(survey.photos.filter(({ id }) => placed.has(id)).map(({ phone }) => phone));
  return [
    { name: 'Photos', used: placed.size, of: survey.photos.length },
    { name: 'Lines', used: seen.length, of: lines.length },
    { name: 'Points of lines', used: seen.reduce((sum, { s }) => sum + s.length, 0), of: points.length },
    { name: 'Marks', used: Math.max(0, usedMarks.length - out('mark')), of: marks.length },
    ...(tapes.length > 0
      ? [
          {
            name: 'Tapes read',
            used: tapes.filter(({ read }) => read?.legible && graduations.length > 0).length,
            of: tapes.length,
          },
        ]
      : []),
    { name: 'Readings', used: survey.readings.length - out('reading'), of: survey.readings.length },
    { name: 'Phones', used: phones.size, of: survey.phones.length },
  ];
}

/** One thing that was left out, why and by whom. */
export interface LeftOutLine {
  readonly name: string;
  readonly why: string;
}

/** Everything that the surface is made without: by the user, by the test, and photographs that could not be placed. */
export function listAllLeftOut(survey: Survey, solution: Solution): LeftOutLine[] {
  const byHand = listLeftOut(survey).map((evidence) => ({
    name: nameEvidence(survey, evidence),
    why: 'left out by you',
  }));
  const byTest = listDisagreements(survey, solution).flatMap(({ items, photo }) =>
    items.length === 0
      ? [{ name: `photo ${photo}`, why: 'takes no part: marks, phone and picture do not fit each other' }]
      : items.map(({ residual }) => ({
          name: nameResidual(survey, residual),
          why: `${sayAmount(survey, residual)}; ${BY[residual.state as keyof typeof BY]}`,
        })),
  );
  return [...byHand, ...byTest];
}

const BY = {
  left_out: 'left out by the test',
  unsure: 'hardly counted, since it cannot be told which of several is wrong',
  suspect: 'still counted',
} as const;

const STAND_PARTS: Partial<Record<Residual['part'], string>> = { off: 'off', up: 'up', along: 'along' };

/** Names of a photo's residuals as short as its own chart allows: "mark 2 along", "line 750 height", "phone up". */
function nameShort(survey: Survey, photo: Photo, { kind, subject, part, index = 0 }: Residual): string {
  if (kind === 'mark') return index < 0 ? `tape ${part}` : `mark ${index + 1} ${part}`;
  if (kind === 'block') return `packer ${index + 1}`;
  if (kind === 'stand') return `phone ${STAND_PARTS[part] ?? part}`;
  const line = photo.lines.find(({ id }) => subject === id || subject === `${photo.id}/${id}`);
  const at = line?.sheet.at ?? null;
  const measure = part === 'tilt' ? 'tilt' : line?.sheet.axis === 'plumb' ? 'place' : 'height';
  return `line${at === null ? '' : ` ${formatLength(at, survey.units, 0)}`} ${measure}`;
}

/** The rows of one photograph's chart: marks, graduations (the worst of each direction), phone, packers, lines. */
export function listPhotoRows(survey: Survey, photo: Photo, { residuals }: Solution): WhiskerRow[] {
  const mine = residuals.filter(({ kind, subject }) => {
    if (kind === 'reading') return false;
    if (kind !== 'line') return subject === photo.id;
    return photo.lines.some(({ id }) => subject === `${photo.id}/${id}` || subject === id);
  });
  const worst = new Map<string, WhiskerRow>();
  for (const residual of mine) {
    const name = nameShort(survey, photo, residual);
    const before = worst.get(name);
    if (before && Math.abs(residual.w) <= Math.abs(before.residual.w)) continue;
    // picture rows count downwards
    const isRow = residual.kind === 'mark' && residual.part === 'up';
    worst.set(name, { name, residual: isRow ? turn(residual) : residual });
  }
  return [...worst.values()];
}

/** A residual counted the other way. */
const turn = (residual: Residual): Residual => ({ ...residual, residualMm: -residual.residualMm });

/** The rows of the readings' chart: as the rule shows them, more = the wall further back. */
export function listReadingRows({ residuals }: Solution): WhiskerRow[] {
  return residuals
    .filter(({ kind }) => kind === 'reading')
    .map((residual) => ({ name: residual.subject, residual: turn(residual) }));
}
