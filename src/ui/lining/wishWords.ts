import type { WishOutcome } from '../../core/liningPlan.ts';
import type { FaceWish, Survey } from '../../core/survey.ts';
import { formatLength, type Units } from '../units.ts';

/** What a face must be to the boards, in words that follow "the boards are to stand". */
export const ruleWords: Readonly<Record<FaceWish['rule'], string>> = {
  meet: 'flush with it',
  behind: 'no further out than it',
  before: 'no further back than it',
};

/** The usual kinds of face. */
export const faceKinds = ['door lining', 'window board', 'adjoining board', 'other'] as const;

const perMetre = (mmPerM: number) => `${Number(mmPerM.toFixed(1))} mm per m`;

/** By how much a wish is missed or would have to give way, in its own unit. */
function sayAmount(wish: string, by: number, units: Units): string {
  return wish === 'turn' || wish === 'lean' ? perMetre(by) : formatLength(by, units);
}

/** What a wish is called in a list of them. */
export function nameWish(wish: string, survey: Survey): string {
  if (wish === 'turn')
    return survey.lining.plane?.turn === 'square' ? 'square to the wall beside it' : 'parallel to the laser';
  if (wish === 'lean')
    return survey.lining.plane?.lean ? `lean of ${perMetre(survey.lining.plane.lean)} at most` : 'plumb';
  if (wish === 'least_bed') return 'the least bed';
  const face = survey.lining.plane?.faces?.find(({ id }) => id === wish);
  return face ? `${face.kind} ${face.id}` : wish;
}

/** Whether a wish is kept, or by how much it is missed. */
export function sayOutcome({ wish, kept, missedBy }: WishOutcome, units: Units): string {
  return kept ? 'Kept' : `Missed by ${sayAmount(wish, missedBy, units)}`;
}

/** What it would take of this wish alone so that all others are kept; null where it alone would not do. */
export function sayAlone({ wish, aloneBy }: WishOutcome, survey: Survey): string | null {
  if (aloneBy === null) return null;
  const { units, lining } = survey;
  const by = sayAmount(wish, aloneBy, units);
  if (wish === 'turn') return `let the plane turn ${by} off that`;
  if (wish === 'lean') return `let the plane lean ${by} more`;
  if (wish === 'least_bed')
    return aloneBy > lining.bed.min
      ? `hack off: masonry would stand ${formatLength(aloneBy - lining.bed.min, units)} into the boards`
      : `let the bed be ${by} thinner at the high points`;
  const rule = lining.plane?.faces?.find(({ id }) => id === wish)?.rule;
  return rule === 'meet'
    ? `let ${nameWish(wish, survey)} be ${by} more off flush`
    : `let the boards pass ${nameWish(wish, survey)} by ${by} more`;
}

/** What is said of the sigmas kept clear of the least bed. */
export const sigmaWords: readonly string[] = [
  'The bed keeps the least depth if the wall is as it came out. Where it is not known well, it may come out thinner.',
  'The bed keeps the least depth with one sigma of the wall to spare: 5 times in 6 at each spot.',
  'The bed keeps the least depth with two sigmas of the wall to spare: 39 times in 40 at each spot. The boards stand out a little more.',
];
