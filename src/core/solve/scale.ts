import { factorDense, logDeterminantDense, solveDenseLower, solveDenseUpper } from './dense.ts';
import type { FieldScale } from './field.ts';
import { maternCorrelation } from './matern.ts';
import { minimizeSimplex } from './simplex.ts';
import { indexLine, type Network } from './network.ts';
import { listTrendFactors, type Observation } from './observation.ts';
import { liesAtEdge, stepOut, type Setback } from './setback.ts';
import type { Settled } from './settle.ts';
import { STRETCH_MM } from './thin.ts';

/** What a masonry wall is like before anything is measured (common practice, no source): median and spread of the logarithm. */
export const USUAL_SCALE: FieldScale = { rangeMm: 900, sdMm: 8, roughMm: 0.3 };
const LOG_SPREAD = [0.8, 0.8, 1] as const;
const LEAST = { rangeMm: 200, sdMm: 1, roughMm: 0.05 };
const MOST = { rangeMm: 5000, sdMm: 30, roughMm: 5 };
/** Points that the likelihood is taken over: its cost grows with their cube. */
const MOST_POINTS = 240;
const LEAST_POINTS = 30;
const LEAST_SPACING_MM = 180;

/**
 * Range, sd and roughness of the wall by maximum likelihood (with weak priors) from the lines' points of a settled network,
 * over a subset of at most 240, about 0.18 m apart or more (the scale of what has to be bridged between lines) and unevenly, with the exact covariance and everything else (trend, cameras, lens, sheets) integrated out.
 * Source: marginal likelihood of a Gaussian model, Rasmussen & Williams 2006, eq. 5.8; Diggle & Ribeiro 2007, 5.4.
 */
export function estimateScale(
  network: Network,
  settled: Settled,
  setbacks: readonly Setback[] = [],
): FieldScale {
  const points = choosePoints(settled, setbacks);
  if (points.length < LEAST_POINTS) return USUAL_SCALE;
  const n = points.length;
  const { misfit, covariance } = integrateUnknowns(network, settled, points, setbacks);
  const distances = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < i; j++)
      distances[i * n + j] = Math.hypot(points[i]!.along - points[j]!.along, points[i]!.up - points[j]!.up);
  const usualLogs = takeLogs(USUAL_SCALE);
  const cost = (logs: readonly number[]): number => {
    const scale = clampScale(logs);
    const field = scale.sdMm ** 2;
    const rough = scale.roughMm ** 2;
    const matrix = covariance.slice();
    for (let i = 0; i < n; i++) {
      const { subject, sigma, weight } = points[i]!;
      for (let j = 0; j < i; j++) {
        const strip = points[j]!.subject === subject ? rough : 0;
        matrix[i * n + j]! += field * maternCorrelation(distances[i * n + j]!, scale.rangeMm) + strip;
      }
      matrix[i * n + i]! += field + rough + (sigma ** 2 + rough) / weight;
    }
    factorDense(matrix, n);
    const half = misfit.slice();
    solveDenseLower(matrix, n, half);
    const square = half.reduce((sum, value) => sum + value * value, 0);
    const prior = logs.reduce((sum, log, k) => sum + ((log - usualLogs[k]!) / LOG_SPREAD[k]!) ** 2, 0);
    return logDeterminantDense(matrix, n) + square + prior;
  };
  return clampScale(minimizeSimplex(cost, usualLogs, 0.4, 0.02));
}

function takeLogs(scale: FieldScale): number[] {
  return [scale.rangeMm, scale.sdMm, scale.roughMm].map(Math.log);
}

function clampScale(logs: readonly number[]): FieldScale {
  const clamp = (log: number, least: number, most: number) => Math.min(most, Math.max(least, Math.exp(log)));
  return {
    rangeMm: clamp(logs[0]!, LEAST.rangeMm, MOST.rangeMm),
    sdMm: clamp(logs[1]!, LEAST.sdMm, MOST.sdMm),
    roughMm: clamp(logs[2]!, LEAST.roughMm, MOST.roughMm),
  };
}

/** One of every `period` items, at places that do not repeat, so that courses and bricks are met at all their phases. */
function pickUnevenly<T>(items: readonly T[], period: number): T[] {
  return Array.from({ length: Math.ceil(items.length / period) }, (_, turn) => {
    const first = turn * period;
    const size = Math.min(period, items.length - first);
    return items[first + Math.floor(((turn * GOLDEN) % 1) * size)]!;
  });
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;

type WeightedPoint = Observation & { readonly weight: number };

function choosePoints({ observations, weights }: Settled, setbacks: readonly Setback[]): WeightedPoint[] {
  const points = observations
    .map((observation, k) => ({ ...observation, weight: weights[k]! }))
    .filter(
      ({ kind, weight, along, up }) => kind === 'point' && weight > 0 && !liesAtEdge(setbacks, along, up),
    );
  const period = Math.max(Math.ceil(points.length / MOST_POINTS), Math.round(LEAST_SPACING_MM / STRETCH_MM));
  return pickUnevenly(points, period);
}

/**
 * The points' misfit (mm) and its covariance from everything but the wall's relief: trend, cameras, lens and sheets as their
 * own evidence (marks, stands, priors) leaves them, the marks' offsets as settled; the strips' relief held at nothing.
 */
function integrateUnknowns(
  network: Network,
  { adjustment, observations, weights }: Settled,
  points: readonly WeightedPoint[],
  setbacks: readonly Setback[],
): { misfit: Float64Array; covariance: Float64Array } {
  const m = adjustment.factor.m;
  const information = new Float64Array(m * m);
  const mean = new Float64Array(m);
  network.lines.forEach((_, line) => {
    const strip = indexLine(network, line) + 2;
    information[strip * m + strip] = 1;
  });
  observations.forEach(({ kind, unknowns, factors, field, along, up, target, sigma }, index) => {
    if (kind === 'point' || kind === 'reading' || sigma === 0) return;
    const share = weights[index]! / sigma ** 2;
    const left = target - (field === 0 ? 0 : field * adjustment.offsetAt(along, up));
    unknowns.forEach((q, a) => {
      mean[q]! += share * factors[a]! * left;
      unknowns.forEach((p, b) => (information[q * m + p]! += share * factors[a]! * factors[b]!));
    });
  });
  const factor = factorDense(information, m);
  solveDenseLower(factor, m, mean);
  solveDenseUpper(factor, m, mean);
  const n = points.length;
  const rows = points.map(({ subject, along, up, unknowns, factors }) => {
    const row = new Float64Array(m);
    row.set(listTrendFactors(along, up));
    unknowns.forEach((q, k) => (row[q] = factors[k]!));
    row[indexLine(network, subject) + 2] = 0;
    return row;
  });
  const misfit = Float64Array.from(points, ({ target, along, up }, i) => {
    let rest = target - stepOut(setbacks, along, up);
    for (let q = 0; q < m; q++) rest -= rows[i]![q]! * mean[q]!;
    return rest;
  });
  // row' (L L')^-1 row, by L^-1 row
  for (const row of rows) solveDenseLower(factor, m, row);
  const covariance = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      const [a, b] = [rows[i]!, rows[j]!];
      let sum = 0;
      for (let p = 0; p < m; p++) sum += a[p]! * b[p]!;
      covariance[i * n + j] = sum;
    }
  return { misfit, covariance };
}
