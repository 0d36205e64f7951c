import type { FoundLine } from '../core/line/foundLine.ts';
import type { LiningPlan, NextAdvice, Solution } from '../core/results.ts';
import type { Survey } from '../core/survey.ts';
import { writeJson } from './json.ts';

/** How long the steps took, ms. */
export interface TimesMs {
  readonly decode: number;
  readonly find: number;
  readonly solve: number;
  readonly plan: number;
}

/** Decimals of lengths and picture points (1e-4 mm or px), of slopes and of lens figures. */
const decimals = { length: 4, slope: 9, lens: 7, time: 1 };

const round = (value: number, digits = decimals.length) => Number(value.toFixed(digits)) || 0;
// NaN stays NaN here, and is null in the text
const roundLength = (value: number) => (Number.isFinite(value) ? round(value) : NaN);
const roundAll = (values: ArrayLike<number>) => Array.from(values, roundLength);

/** A value with every number in it rounded as a length. */
function roundDeep(value: unknown): unknown {
  if (typeof value === 'number') return roundLength(value);
  if (Array.isArray(value) || ArrayBuffer.isView(value))
    return Array.from(value as unknown as ArrayLike<unknown>, roundDeep);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, roundDeep(item)]));
}

/**
 * result.json of the headless command (contract B): lengths in mm to 1e-4, a missing value as null, row by row from the
 * floor. Same results give the same text; only `timesMs` differs from run to run.
 */
export function writeResult(
  survey: Survey,
  solution: Solution,
  plan: LiningPlan,
  next: NextAdvice,
  timesMs: TimesMs,
): string {
  const { profiles, boxes, surface, phones, photos, residuals, fits, unevenness, setbacks, warnings } =
    solution;
  const { p, q, r } = plan.bedPlane;
  return writeJson({
    title: survey.title,
    profiles: profiles.map(({ photo, line, axis, atMm, s, out, sigma, u, v }) => ({
      photo,
      line,
      axis,
      at: round(atMm),
      s: roundAll(s),
      out: roundAll(out),
      sigma: roundAll(sigma),
      u: roundAll(u),
      v: roundAll(v),
    })),
    surface: {
      step: surface.stepMm,
      nx: surface.nx,
      ny: surface.ny,
      out: roundAll(surface.out),
      sigma: roundAll(surface.sigma),
    },
    phones: phones.map(({ id, k1, sigma, k2, k2Sigma }) => ({
      id,
      k1: round(k1, decimals.lens),
      sigma: round(sigma, decimals.lens),
      ...(k2 === undefined || k2Sigma === undefined
        ? {}
        : { k2: round(k2, decimals.lens), k2Sigma: round(k2Sigma, decimals.lens) }),
    })),
    photos: photos.map(({ id, position, rotationRad, focalPx, offsetSigmaMm, markRmsPx }) => ({
      id,
      position: roundAll([position.along, position.up, position.out]),
      rotationRad: rotationRad.map((angle) => round(angle, decimals.slope)),
      focalPx: round(focalPx),
      offsetSigmaMm: roundLength(offsetSigmaMm),
      markRmsPx: roundLength(markRmsPx),
    })),
    residuals: roundDeep(residuals),
    fits: roundDeep(fits),
    unevenness: roundDeep(unevenness),
    setbacks: roundDeep(setbacks),
    boxes: roundDeep(boxes),
    bedPlane: { p: round(p), q: round(q, decimals.slope), r: round(r, decimals.slope) },
    meanBedMm: roundLength(plan.meanBedMm),
    maxBedMm: roundLength(plan.maxBedMm),
    zones: roundDeep(plan.zones),
    highPoint: roundDeep(plan.highPoint),
    highPoints: roundDeep(plan.highPoints),
    boards: roundDeep(plan.boards),
    screws: roundDeep(plan.screws),
    adhesive: roundDeep(plan.adhesive),
    plane: roundDeep(plan.planeReport),
    hacked: roundDeep(plan.hacked),
    hackOptions: roundDeep(plan.hackOptions),
    packing: roundDeep(plan.packing),
    reveals: roundDeep(plan.reveals),
    cutting: roundDeep(plan.cutting),
    dabs: roundDeep(plan.dabs),
    batches: roundDeep(plan.batches),
    asBuilt: roundDeep(plan.asBuilt),
    work: roundDeep(plan.work),
    verdict: roundDeep(plan.verdict),
    doubtfulM2: roundLength(next.doubtfulM2),
    next: roundDeep(next),
    warnings: [...warnings, ...plan.warnings].map(({ code, subject, count }) => ({
      code,
      subject,
      ...(count === undefined ? {} : { count }),
    })),
    timesMs: {
      decode: round(timesMs.decode, decimals.time),
      find: round(timesMs.find, decimals.time),
      solve: round(timesMs.solve, decimals.time),
      plan: round(timesMs.plan, decimals.time),
    },
  });
}

/** lines.json of the headless command (contract B): the lines found in one picture, best first; points to 0.001 px. */
export function writeLines(widthPx: number, heightPx: number, lines: readonly FoundLine[]): string {
  return writeJson({
    width: widthPx,
    height: heightPx,
    lines: lines.map(({ axis, colour, confidence, points }) => ({
      axis,
      colour,
      confidence: round(confidence),
      points: points.map(({ u, v, sigma, state, why }) => ({
        u: round(u, 3),
        v: round(v, 3),
        sigma: Number(sigma.toPrecision(3)),
        state,
        ...(why ? { why } : {}),
      })),
    })),
  });
}
