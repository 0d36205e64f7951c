import type { Mark, Photo } from '../survey.ts';
import { chiSquare999 } from './chiSquare.ts';
import { countFree, countObservations, type Evidence, type LensPrior } from './evidence.ts';
import { judgeAttitude } from './likelihood.ts';
import { cameraOf, findOptima } from './optimum.ts';
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
  const { marks } = whole.photo;
  // indices of the photo's own
  const named = photo.marks.flatMap(({ leftOut }, index) => (leftOut ? [] : [index]));
  const tries: { blunder: Blunder; evidence: Evidence }[] = [];
  // graduations were counted and confirm each other
  const clicked = [...marks.keys()].filter((index) => !marks[index]!.only);
  for (const mark of clicked) {
    const kept = <T>(items: readonly T[]) => items.filter((_, i) => i !== mark);
    const believed = { ...whole.photo, marks: kept(marks) };
    const evidence = { ...whole, photo: believed, markOutMm: kept(whole.markOutMm) };
    tries.push({ blunder: { kind: 'mark', mark: named[mark]! }, evidence });
  }
  for (const second of clicked)
    for (const first of clicked) {
      if (first === second) break;
      if (marks[first]!.of?.photo !== marks[second]!.of?.photo) continue;
      const evidence = { ...whole, photo: { ...whole.photo, marks: swapPlaces(marks, first, second) } };
      tries.push({ blunder: { kind: 'swapped', first: named[first]!, second: named[second]! }, evidence });
    }
  for (const { name } of whole.priors)
    if (name === 'off' || name === 'up' || name === 'along') {
      const evidence = { ...whole, priors: whole.priors.filter((row) => row.name !== name) };
      tries.push({ blunder: { kind: 'stand', measure: name }, evidence });
    }
  return tries
    .filter(({ evidence }) => evidence.photo.marks.length >= 2 && countRedundancy(evidence) > 0)
    .map(({ blunder, evidence }) => ({ blunder, fit: fitAll(evidence) }))
    .filter(({ fit }) => fit.excess < 0)
    .sort((a, b) => a.fit.excess + a.fit.unusual - (b.fit.excess + b.fit.unusual))
    .map(({ blunder }) => blunder);
}

/** The marks with the picture points of two of them exchanged. */
export function swapPlaces(marks: readonly Mark[], first: number, second: number): Mark[] {
  const at = (i: number, from: number): Mark => ({ ...marks[i]!, u: marks[from]!.u, v: marks[from]!.v });
  return marks.map((mark, i) => (i === first ? at(i, second) : i === second ? at(i, first) : mark));
}

function disagrees(evidence: Evidence): boolean {
  return countRedundancy(evidence) > 0 && fitAll(evidence).excess > 0;
}

function countRedundancy(evidence: Evidence): number {
  return countObservations(evidence) - countFree(evidence);
}

/**
 * How far the best fit's chi-square lies above its 99.9 % point, and how unusually the phone would have been held: with the inner two of
 * four marks swapped, swapping the outer ones fits as well, upside down.
 */
function fitAll(evidence: Evidence): { excess: number; unusual: number } {
  const optima = findOptima(evidence, []);
  if (!optima) return { excess: Infinity, unusual: 0 };
  return {
    excess: optima.best.cost - chiSquare999(countRedundancy(evidence)),
    unusual: judgeAttitude(cameraOf(evidence, optima.best)),
  };
}
