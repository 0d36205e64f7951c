import type { Mark, Photo } from '../survey.ts';
import { chiSquare999 } from './chiSquare.ts';
import { countFree, countObservations, type Evidence, type LensPrior } from './evidence.ts';
import { findOptima } from './optimum.ts';
import { gatherEvidence, type ResectContext } from './resect.ts';

/** One mistake that would explain why a photo's marks and stand do not agree: indices of marks, or the stand's measure. */
export type Blunder =
  | { readonly kind: 'mark'; readonly mark: number }
  | { readonly kind: 'swapped'; readonly first: number; readonly second: number }
  | { readonly kind: 'stand'; readonly measure: 'off' | 'up' | 'along' };

/**
 * Single mistakes that explain a photo whose marks, stand and focal length disagree, the best first: one mark wrong, two
 * marks swapped, one measure of the stand wrong. Each is tried by resecting without it and must pass the chi-square test
 * at 0.1 % that the whole failed. Empty where nothing disagrees, or where no single mistake explains it.
 * The photo must pass `checkMarks` and `checkStand`.
 */
export function listBlunders(photo: Photo, lens: LensPrior, context: ResectContext = {}): Blunder[] {
  const whole = gatherEvidence(photo, lens, context);
  if (!disagrees(whole)) return [];
  const { marks } = photo;
  const tries: { blunder: Blunder; evidence: Evidence }[] = [];
  // graduations were counted and confirm each other: the marks set by hand come before them
  const clicked = marks.findIndex(({ only }) => only);
  const count = clicked < 0 ? marks.length : clicked;
  marks.slice(0, count).forEach((_, mark) => {
    const kept = <T>(items: readonly T[]) => items.filter((__, i) => i !== mark);
    const evidence = { ...whole, photo: { ...photo, marks: kept(marks) }, markOutMm: kept(whole.markOutMm) };
    tries.push({ blunder: { kind: 'mark', mark }, evidence });
  });
  for (let second = 1; second < count; second++)
    for (let first = 0; first < second; first++) {
      const evidence = { ...whole, photo: { ...photo, marks: swapPlaces(marks, first, second) } };
      tries.push({ blunder: { kind: 'swapped', first, second }, evidence });
    }
  for (const { name } of whole.priors)
    if (name === 'off' || name === 'up' || name === 'along') {
      const evidence = { ...whole, priors: whole.priors.filter((row) => row.name !== name) };
      tries.push({ blunder: { kind: 'stand', measure: name }, evidence });
    }
  return tries
    .filter(({ evidence }) => evidence.photo.marks.length >= 2 && countRedundancy(evidence) > 0)
    .map(({ blunder, evidence }) => ({ blunder, excess: measureExcess(evidence) }))
    .filter(({ excess }) => excess < 0)
    .sort((a, b) => a.excess - b.excess)
    .map(({ blunder }) => blunder);
}

/** The marks with the picture points of two of them exchanged. */
function swapPlaces(marks: readonly Mark[], first: number, second: number): Mark[] {
  const at = (i: number, from: number): Mark => ({ ...marks[i]!, u: marks[from]!.u, v: marks[from]!.v });
  return marks.map((mark, i) => (i === first ? at(i, second) : i === second ? at(i, first) : mark));
}

function disagrees(evidence: Evidence): boolean {
  return countRedundancy(evidence) > 0 && measureExcess(evidence) > 0;
}

function countRedundancy(evidence: Evidence): number {
  return countObservations(evidence) - countFree(evidence);
}

/** How far the best fit's chi-square lies above its 99.9 % point. */
function measureExcess(evidence: Evidence): number {
  const optima = findOptima(evidence, []);
  return optima ? optima.best.cost - chiSquare999(countRedundancy(evidence)) : Infinity;
}
