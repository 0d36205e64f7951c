import { blunderKinds, tryBlunder } from '../truth/blunders.ts';

const TRIALS = 24;

/** Prints how often single mistakes are named on made walls of every kind, and how often something else is as well. */
export function printBlunders(): void {
  for (const kind of blunderKinds) {
    const trials = Array.from({ length: TRIALS }, (_, k) => tryBlunder(kind, 501 + k));
    const share = (count: number) => (count / TRIALS).toFixed(3);
    const missed = trials.filter(({ isNamed }) => !isNamed).map(({ wall }) => wall);
    console.log(
      `${kind}: ${kind === 'none' ? '' : `named ${share(TRIALS - missed.length)} (not on ${missed.join(', ') || 'none'}), `}` +
        `something else ${share(trials.filter(({ others }) => others.length > 0).length)}`,
    );
  }
}
