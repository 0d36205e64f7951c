import type { Warning, WarningCode } from '../core/refusal.ts';
import type { Survey } from '../core/survey.ts';
import { nameWish } from './lining/wishWords.ts';
import { warningSentence } from './words.ts';

/**
 * Root mean square of the finite numbers; NaN when there are none.
 */
export function rootMeanSquare(values: ArrayLike<number>): number {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (!Number.isFinite(value)) continue;
    sum += value * value;
    count++;
  }
  return Math.sqrt(sum / count);
}

/** Least and greatest finite number; NaN when there are none. */
export function rangeOf(values: ArrayLike<number>): { least: number; most: number } {
  let least = Infinity;
  let most = -Infinity;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (!Number.isFinite(value)) continue;
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return most < least ? { least: NaN, most: NaN } : { least, most };
}

/** What a warning or residual is about, as kind and name: "Photo", "f1". */
function subjectParts(
  survey: Survey,
  subject: string,
  code?: WarningCode,
): readonly [kind: string, name: string] {
  if (code === 'wish_not_kept') return ['Wish', nameWish(subject, survey)];
  if (code === 'sheet_tight') return ['Stock board', subject];
  const { photos, readings, wall } = survey;
  const has = (items: readonly { readonly id: string }[]) => items.some((item) => item.id === subject);
  if (has(photos)) return ['Photo', subject];
  if (has(readings)) return ['Reading', subject];
  if (has(wall.openings)) return ['Opening', subject];
  if (has(wall.boxes)) return ['Box', subject];
  for (const photo of photos)
    for (const line of photo.lines)
      if (subject === line.id || subject === `${photo.id}/${line.id}`)
        return ['Line', `${line.id} of photo ${photo.id}`];
  return subject === 'wall' ? ['The wall', ''] : ['Board', subject];
}

/** What a warning or residual is about, as the user knows it: "Photo f1", "Reading r2", "Line l1 of photo f1", "Board 2". */
export function subjectName(survey: Survey, subject: string): string {
  return subjectParts(survey, subject).join(' ').trim();
}

/** Warnings as sentences, those that say the same of several things joined: "Photos f1, f2: ...". */
export function tellWarnings(survey: Survey, warnings: readonly Warning[]): string[] {
  const groups = new Map<string, { code: WarningCode; kind: string; names: string[]; sum: number }>();
  for (const { code, subject, count = 1 } of warnings) {
    const [kind, name] = subjectParts(survey, subject, code);
    // percents do not add up: each is told by itself
    const key = code === 'contact_short' ? `${code} ${name}` : `${code} ${kind}`;
    const group = groups.get(key) ?? { code, kind, names: [], sum: 0 };
    group.sum += count;
    if (!group.names.includes(name)) group.names.push(name);
    groups.set(key, group);
  }
  const plural = (kind: string) => (/(x|sh)$/.test(kind) ? `${kind}es` : `${kind}s`);
  return [...groups.values()].map(({ code, kind, names, sum }) =>
    warningSentence(code, `${names.length > 1 ? plural(kind) : kind} ${names.join(', ')}`.trim(), sum),
  );
}
