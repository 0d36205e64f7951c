import type { Fit } from '../../core/results.ts';

/** What the scatter of one kind of evidence says of the accuracy that was stated for it. */
export interface FitWords {
  readonly name: string;
  readonly line: string;
  /** more = it scatters more than was stated, less = less; none = too few checks to tell. */
  readonly verdict: 'fits' | 'more' | 'less' | 'none';
}

const NAMES: Record<Fit['kind'], string> = {
  all: 'Everything together',
  point: "The lines' points",
  reading: 'Readings',
  mark: 'Marks',
  stand: "Phones' places",
  line: "Lines' heights and tilts",
};

/**
 * Whether the scatter of a kind fits the accuracy stated for it, as a factor beside the factors that chance allows (95 %): the root
 * of the weighted square sum over its redundancy, beside the same of the chi-square range.
 */
export function sayFit({ kind, squareSum, redundancy, least, most }: Fit): FitWords {
  const name = NAMES[kind];
  if (!(redundancy > 0) || Number.isNaN(least) || Number.isNaN(most))
    return { name, line: 'too few checks to tell', verdict: 'none' };
  const factor = (sum: number) => Math.sqrt(sum / redundancy).toFixed(2);
  const verdict = squareSum > most ? 'more' : squareSum < least ? 'less' : 'fits';
  const range = `${factor(least)} to ${factor(most)} would be chance`;
  return { name, line: `scatter ${factor(squareSum)} times what was stated (${range})`, verdict };
}

/** What all fits together say, in one sentence. */
export function sayFits(fits: readonly Fit[]): string {
  const all = fits.find(({ kind }) => kind === 'all');
  const parts = fits.filter(({ kind }) => kind !== 'all').map(sayFit);
  const wide = parts.filter(({ verdict }) => verdict === 'more').map(({ name }) => name.toLowerCase());
  const worse =
    wide.length === 0 ? '' : ` But these scatter more than was stated for them: ${wide.join(', ')}.`;
  const { verdict } = all ? sayFit(all) : { verdict: 'none' };
  if (verdict === 'none')
    return `There are too few checks to tell whether the stated accuracies hold.${worse}`;
  if (verdict === 'more')
    return 'What was measured scatters more than its stated accuracies allow: expect the surface to be worse than its ± says.';
  if (verdict === 'less')
    return `What was measured agrees better than its stated accuracies: the ± given is on the safe side.${worse}`;
  return `What was measured scatters as its stated accuracies let one expect.${worse}`;
}
