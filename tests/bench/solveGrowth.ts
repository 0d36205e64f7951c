import { solveSurvey } from '../../src/core/solve/solve.ts';
import { makeSurvey } from '../truth/survey.ts';

/** Prints how the time of a solve grows with the wall's length: in proportion is right. */
export function printSolveGrowth(): void {
  let before = NaN;
  for (const width of [3600, 7200, 14400]) {
    const levels = [250, 750, 1250, 1750, 2200];
    const plumbs = Array.from({ length: Math.round(width / 1200) }, (_, k) => 600 + 1200 * k);
    const { survey } = makeSurvey(1, 'plaster', { width, levels, plumbs });
    const start = performance.now();
    solveSurvey(survey);
    const ms = performance.now() - start;
    const growth = Number.isNaN(before) ? '' : `, ${(ms / before).toFixed(2)} of the length before`;
    console.log(`wall ${width} mm: ${ms.toFixed(0)} ms${growth}`);
    before = ms;
  }
}
