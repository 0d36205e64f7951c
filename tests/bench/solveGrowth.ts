import { invertBordered } from '../../src/core/solve/borderedInverse.ts';
import { resolveSurvey } from '../../src/core/solve/resolve.ts';
import { solveAndKeep, type Kept } from '../../src/core/solve/solve.ts';
import type { Survey } from '../../src/core/survey.ts';
import { makeSurvey } from '../truth/survey.ts';
import { compareDensely } from './denseWall.ts';

const LENGTHS_MM = [3600, 7200, 14400, 28800];
const TIMES = 3;
const megabytes = (values: number) => ((8 * values) / 2 ** 20).toFixed(1);

/** Prints how solving grows with the wall's length at equal line density, what solving again costs, and how the same model does solved densely. */
export function printSolveGrowth(): void {
  let before = NaN;
  for (const width of LENGTHS_MM) {
    const survey = makeLongSurvey(width);
    const first = takeTime(() => solveAndKeep(survey));
    const growth = Number.isNaN(before) ? '' : `, ${(first.ms / before).toFixed(2)} times the length before`;
    console.log(`wall ${width} mm: first solve ${first.ms.toFixed(0)} ms${growth}`);
    before = first.ms;
    const { kept } = first.value;
    const edited = movePoint(survey);
    const again = takeTime(() => resolveSurvey(kept, edited));
    const share = again.value ? (again.ms / first.ms).toFixed(3) : 'none, too far';
    console.log(`  again after a moved point: ${again.ms.toFixed(0)} ms, ${share} of the first`);
    printSize(kept);
    const { nodes, stepMm, ratio, mean, sigma } = compareDensely(kept);
    console.log(
      `  dense, ${nodes} nodes of ${stepMm} mm: ${ratio.toFixed(1)} times as long; differs by ${mean.toExponential(1)} mm, sigma by ${sigma.toExponential(1)} mm`,
    );
  }
  console.log(`greatest memory of the whole run: ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB`);
}

/** Level lines photographed in stretches of 3.6 m, one photo each, and a plumb line every 1.2 m. */
export function makeLongSurvey(width: number): Survey {
  const plumbs = Array.from({ length: Math.round(width / 1200) }, (_, k) => 600 + 1200 * k);
  const levels = [250, 750, 1250, 1750, 2200];
  return makeSurvey(1, 'plaster', { width, levels, plumbs, stretchMm: 3600 }).survey;
}

/** Least processor time (ms) of some runs: others on the machine only add to it. */
function takeTime<T>(run: () => T): { value: T; ms: number } {
  let value!: T;
  let ms = Infinity;
  for (let turn = 0; turn < TIMES; turn++) {
    const start = process.cpuUsage();
    value = run();
    ms = Math.min(ms, process.cpuUsage(start).user / 1000);
  }
  return { value, ms };
}

function movePoint(survey: Survey): Survey {
  return {
    ...survey,
    photos: survey.photos.map((photo, k) => ({
      ...photo,
      lines: photo.lines.map((line) => ({
        ...line,
        points: line.points.map((point, at) =>
          k === 1 && at === line.points.length >> 1 ? { ...point, v: point.v + 3, state: 'moved' } : point,
        ),
      })),
    })),
  };
}

function printSize({ final }: Kept): void {
  const { factor } = final.adjustment;
  const inverse = invertBordered(factor);
  const dense = factor.m * factor.band.n;
  console.log(
    `  ${factor.band.n} nodes, ${factor.m} other unknowns: factor ${megabytes(factor.band.entries.length + factor.border.length + factor.corner.length)} MB` +
      ` (border ${megabytes(factor.border.length)}, dense it would be ${megabytes(dense)}), inverse ${megabytes(inverse.band.entries.length + inverse.border.length + inverse.corner.length)} MB`,
  );
}
