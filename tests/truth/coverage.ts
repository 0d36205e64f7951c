import { solveSurvey } from '../../src/core/solve/solve.ts';
import { seedRandom } from './random.ts';
import { makeSurvey, type SurveyOptions } from './survey.ts';
import type { WallKind } from './wall.ts';

/** Shares of the nodes whose error is within so many sigmas. */
export interface Coverage {
  readonly within2: number;
  readonly within1: number;
}

/** Parts of a wall that are judged apart. */
export type WallPart = 'all' | 'near' | 'between' | 'edges';

/** A node is near a line within this, between lines beyond that, at the edge within the third (mm). */
const NEAR_MM = 60;
const BETWEEN_MM = 150;
const EDGE_MM = 150;

/** Mean shares of nodes within 2 and 1 sigma over some walls of a kind, in all and by part. */
export function measureCoverage(
  kind: WallKind,
  firstSeed: number,
  count: number,
  options: SurveyOptions = {},
): Record<WallPart, Coverage> {
  const sums = { all: [0, 0], near: [0, 0], between: [0, 0], edges: [0, 0] };
  const errors = spreadErrors(count, READINGS, firstSeed);
  for (let k = 0; k < count; k++) {
    const shares = shareWithin(kind, firstSeed + k, { ...options, readingErrors: errors[k]! });
    for (const part of Object.keys(sums) as WallPart[])
      shares[part].forEach((share, i) => (sums[part][i]! += share / count));
  }
  const tell = ([within2, within1]: number[]): Coverage => ({ within2: within2!, within1: within1! });
  return { all: tell(sums.all), near: tell(sums.near), between: tell(sums.between), edges: tell(sums.edges) };
}

const READINGS = 6;

function shareWithin(
  kind: WallKind,
  seed: number,
  options: SurveyOptions,
): Record<WallPart, [number, number]> {
  const { survey, truth } = makeSurvey(seed, kind, options);
  const { surface } = solveSurvey(survey);
  const { width, height } = survey.wall;
  const sheets = survey.photos.flatMap(({ lines }) => lines.map(({ sheet }) => sheet));
  const counts: Record<WallPart, [number, number, number]> = {
    all: [0, 0, 0],
    near: [0, 0, 0],
    between: [0, 0, 0],
    edges: [0, 0, 0],
  };
  surface.out.forEach((out, at) => {
    const along = (at % surface.nx) * surface.stepMm;
    const up = Math.floor(at / surface.nx) * surface.stepMm;
    if (Number.isNaN(out) || along > width || up > height) return;
    const sigmas = Math.abs(out - truth(along, up)) / surface.sigma[at]!;
    const off = Math.min(
      ...sheets.map((sheet) => Math.abs(sheet.at! - (sheet.axis === 'level' ? up : along))),
    );
    const isEdge = Math.min(along, width - along, up, height - up) < EDGE_MM;
    const parts: WallPart[] = ['all'];
    if (off < NEAR_MM) parts.push('near');
    if (off > BETWEEN_MM && !isEdge) parts.push('between');
    if (isEdge) parts.push('edges');
    for (const part of parts) {
      counts[part][0]++;
      if (sigmas < 2) counts[part][1]++;
      if (sigmas < 1) counts[part][2]++;
    }
  });
  const share = ([all, two, one]: [number, number, number]): [number, number] => [two / all, one / all];
  return {
    all: share(counts.all),
    near: share(counts.near),
    between: share(counts.between),
    edges: share(counts.edges),
  };
}

/**
 * Normal errors for `count` surveys of `size` readings each, spread evenly so that few surveys stand for many: each reading meets every
 * one of `count` equally probable slices once. Latin hypercube sampling: McKay, Beckman & Conover 1979, Technometrics 21(2).
 */
export function spreadErrors(count: number, size: number, seed: number): number[][] {
  const random = seedRandom(seed * 13 + 5);
  const columns = Array.from({ length: size }, () => {
    const slices = Array.from({ length: count }, (_, k) => k);
    for (let k = count - 1; k > 0; k--) {
      const other = Math.floor(random.uniform() * (k + 1));
      [slices[k], slices[other]] = [slices[other]!, slices[k]!];
    }
    return slices.map((slice) => normalQuantile((slice + random.uniform()) / count));
  });
  return Array.from({ length: count }, (_, k) => columns.map((column) => column[k]!));
}

/** Standard normal quantile by bisection of the error function's series; exact enough for a die. */
function normalQuantile(p: number): number {
  let [low, high] = [-8, 8];
  for (let k = 0; k < 60; k++) {
    const middle = (low + high) / 2;
    if (normalProbability(middle) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Phi(x) = 1/2 + phi(x) (x + x^3/3 + x^5/15 + ...). Source: Abramowitz & Stegun 26.2.11. */
function normalProbability(x: number): number {
  let term = x;
  let sum = x;
  for (let k = 3; Math.abs(term) > 1e-17; k += 2) {
    term *= (x * x) / k;
    sum += term;
  }
  return 0.5 + (Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)) * sum;
}
