import type { LineEvidence } from './evidence.ts';

const clamp = (value: number, least: number, most: number): number => Math.min(most, Math.max(least, value));

/** Log-odds from which a line is believed (0.3), and how much more than fitted they spread to either side of it. */
const BELIEVED_ODDS = Math.log(0.3 / 0.7);
const SPREAD = 1.6;
/** Log-odds of a line with nothing against it, seen over the whole picture in a clean one. */
const CLEAR_ODDS = 4.6;

/**
 * How sure it is that a line is a laser's, 0..1: a logistic sum of what speaks for and against it. For it:
 * little else in the picture looks like it, it runs through much of the picture, it is bright and coloured.
 * Against it: it gains in yellow (lamps, leaves, timber), its own channel gains much more (something white)
 * or less (paint) than its colour, it is broad, in pieces, lopsided or wandering. The weights were fitted to
 * made lines on photographs of all sorts and to the same photographs without, then rounded towards refusing
 * (DEVELOPERS.md "Confidence").
 */
export function confidenceOf(evidence: LineEvidence): number {
  const coverage = clamp(evidence.coverage, 0.02, 1);
  const gain = clamp(evidence.added, 0.1, 20);
  const added = Math.abs(Math.log(Math.min(gain, 8) / 1.2));
  const odds =
    CLEAR_ODDS +
    0.5 * Math.log(clamp(evidence.strength, 2.5, 12) / 5) +
    0.25 * Math.log(clamp(evidence.excess, 2, 40) / 10) -
    1.15 * Math.log(clamp(evidence.rivals + 0.05, 0.05, 10) / 0.1) -
    Math.log(clamp(evidence.rivals, 1, 10)) +
    1.2 * Math.log(coverage) +
    1.5 * Math.log(Math.min(1, coverage / 0.3)) -
    2 * Math.max(0, added - 0.3) -
    3 * Math.log(Math.max(gain, 4.5) / 4.5) +
    0.5 * Math.log(clamp(evidence.brightness, 0.15, 1)) +
    4 * Math.log(clamp(evidence.brightness, 0.15, 0.5) / 0.5) -
    2 * Math.log(clamp(evidence.width, 5.5, 40) / 5.5) -
    2.5 * Math.log(clamp(evidence.width, 9, 40) / 9) -
    1.2 * evidence.suspect -
    0.5 * Math.log(clamp(evidence.scatter, 0.25, 2) / 0.25) -
    0.3 * Math.log(clamp(evidence.wander + 0.2, 0.2, 10) / 0.4) -
    0.5 * Math.log(clamp(evidence.pieces, 1, 20)) -
    10 * clamp(evidence.yellow - 0.03, 0, 1);
  return 1 / (1 + Math.exp(-BELIEVED_ODDS - SPREAD * (odds - BELIEVED_ODDS)));
}
