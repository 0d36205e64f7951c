import { findEvidence, isLeftOut, type Evidence } from '../../app/editLeftOut.ts';
import type { Warning } from '../../core/refusal.ts';
import type { Residual, Solution } from '../../core/results.ts';
import type { Survey } from '../../core/survey.ts';

/** One thing that does not agree with the rest, by the part of it that says most. */
export interface Disagreement {
  readonly residual: Residual;
  /** What leaving it out would leave out; null where it cannot be left out by itself. */
  readonly evidence: Evidence | null;
}

/** Things that do not agree and are looked at together. */
export interface DisagreementGroup {
  readonly kind: 'unsure' | 'reading' | 'line' | 'photo';
  /** The photo that marks, phone or packers belong to. */
  readonly photo: string | null;
  /** Empty for a photo that takes no part at all, because its marks contradict each other or are too weak. */
  readonly items: readonly Disagreement[];
}

/** A name for the thing that a residual is part of: both measures of a mark, but shift and tilt of a line apart. */
const keyOf = ({ kind, subject, part, index }: Residual) =>
  `${kind} ${subject} ${kind === 'mark' ? (index ?? -1) : part}`;

const sizeOf = ({ errorMm }: Residual) => (Number.isFinite(errorMm) ? Math.abs(errorMm) : -1);

/** One residual for each thing: of several the one with the greatest error. */
function joinParts(residuals: readonly Residual[]): Residual[] {
  const joined = new Map<string, Residual>();
  for (const residual of residuals) {
    const before = joined.get(keyOf(residual));
    if (!before || sizeOf(residual) > sizeOf(before)) joined.set(keyOf(residual), residual);
  }
  return [...joined.values()];
}

const worstW = ({ items }: DisagreementGroup) =>
  items.length === 0 ? Infinity : Math.max(...items.map(({ residual }) => Math.abs(residual.w)));

/**
 * What does not agree with the rest, worst first: readings that fail alike together, a line or a reading by itself, what belongs
 * to one photograph (marks, phone, packers) together. What the user has left out meanwhile is not named.
 */
export function listDisagreements(survey: Survey, { residuals, warnings }: Solution): DisagreementGroup[] {
  const failed = joinParts(residuals.filter(({ state }) => state !== 'used' && state !== 'by_hand'))
    .map((residual): Disagreement => ({ residual, evidence: findEvidence(survey, residual) }))
    .filter(({ evidence }) => !evidence || !isLeftOut(survey, evidence))
    .filter(({ residual, evidence }) => evidence || stillThere(survey, residual))
    .sort((a, b) => Math.abs(b.residual.w) - Math.abs(a.residual.w));
  const groups: DisagreementGroup[] = [];
  const unsure = failed.filter(({ residual }) => residual.state === 'unsure');
  if (unsure.length > 0) groups.push({ kind: 'unsure', photo: null, items: unsure });
  const photos = new Map<string, Disagreement[]>();
  for (const item of failed) {
    const { kind, subject, state } = item.residual;
    if (state === 'unsure') continue;
    if (kind === 'reading' || kind === 'line') groups.push({ kind, photo: null, items: [item] });
    else photos.set(subject, [...(photos.get(subject) ?? []), item]);
  }
  for (const { code, subject } of warnings) {
    const photo = survey.photos.find(({ id }) => id === subject);
    if (!['photo_left_out', 'marks_suspect', 'stand_suspect'].includes(code) || !photo || photo.leftOut)
      continue;
    const marksLeftOut = residuals.some((each) => each.kind === 'mark' && each.subject === subject);
    if (!photos.has(subject) && !marksLeftOut) photos.set(subject, []);
  }
  for (const [photo, items] of photos) groups.push({ kind: 'photo', photo, items });
  return groups.sort((a, b) => worstW(b) - worstW(a));
}

const stillThere = (survey: Survey, { subject }: Residual): boolean =>
  survey.photos.some(({ id, leftOut }) => id === subject && !leftOut);

/** Whether a warning is about what is named one by one, or was until the user left it out. */
export function isNamed(
  groups: readonly DisagreementGroup[],
  residuals: readonly Residual[],
  { code, subject }: Warning,
): boolean {
  const whole = groups.some(({ photo, items }) => photo === subject && items.length === 0);
  if (code === 'photo_left_out' || whole) return whole;
  const codes = ['reading_suspect', 'line_suspect', 'marks_suspect', 'stand_suspect', 'block_suspect'];
  if (!codes.includes(code)) return false;
  return residuals.some((residual) => residual.subject === subject && residual.state !== 'used');
}
