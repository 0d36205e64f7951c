import type { LaserLine } from '../survey.ts';
import { imageFromWall, wallFromImageOnSheet, type Camera } from './camera.ts';
import { evaluateForm } from './dense.ts';
import { CAMERA_PARAMETERS, K1_PARAMETER } from './projection.ts';
import type { Resection } from './resect.ts';
import { alongSheet, differentiateOffset, knownSheet, pointOnSheet, type KnownSheet } from './sheet.ts';

/** What the wall offsets of one photographed line are expected to be worth, each as a sigma in mm (rms along the line). */
export interface OffsetSigma {
  /** The photograph by itself, nothing removed: what a survey without readings and crossings would have. */
  readonly aloneMm: number;
  /** After a shift and a tilt of the line, with the lens known: what a wall of +-20 mm relief is wrong by. */
  readonly reliefMm: number;
  /** After a shift and a tilt: the bow that the lens's unknown k1 leaves. */
  readonly lensMm: number;
  /** One point of the line: its sigma across the line, in mm of offset. */
  readonly pointMm: number;
}

/** A wall's relief about its mean (mm) that the error is weighed with. */
const RELIEF_MM = 20;
const PLACES = 41;
/** Looked for this far to either side of the camera (mm) when the line has no points yet. */
const REACH_MM = 5000;
/** Sigma of a found point across the line (px) when the line has none yet; METHOD 2.3: 0.09-0.15 measured. */
const POINT_SIGMA_PX = 0.15;

/**
 * Expected sigmas of the wall offsets of one line, from the resection's covariance carried through the triangulation
 * (d out / d camera), at the line's points or, where it has none, along its stretch in the picture; NaN where the picture
 * does not show the line at all.
 * Source: propagation of covariance, DEVELOPERS.md "One photograph".
 */
export function predictOffsetSigma(
  resection: Pick<Resection, 'camera' | 'covariance'>,
  line: LaserLine,
): OffsetSigma {
  const { camera, covariance } = resection;
  const sheet = knownSheet(line);
  const used = line.points.filter((point) => point.state !== 'off');
  const spots = used
    .map((point) => wallFromImageOnSheet(camera, point, sheet))
    .filter((spot) => Number.isFinite(spot.out));
  const middleMm = spots.length > 0 ? median(spots.map((spot) => spot.out)) : 0;
  const stretch =
    spots.length > 1 ? spanOf(spots.map((spot) => alongSheet(sheet, spot))) : visibleStretch(camera, sheet);
  if (!stretch) return { aloneMm: NaN, reliefMm: NaN, lensMm: NaN, pointMm: NaN };
  const places: number[] = [];
  const rows: number[] = [];
  const perPx: number[] = [];
  for (let i = 0; i < PLACES; i++)
    for (const relief of [-RELIEF_MM, RELIEF_MM]) {
      const s = stretch.from + ((stretch.to - stretch.from) * i) / (PLACES - 1);
      const by = differentiateOffset(camera, sheet, pointOnSheet(sheet, s, middleMm + relief));
      if (!by) continue;
      places.push(s);
      rows.push(...by.outByCamera);
      perPx.push(by.outPerPx);
    }
  const all = Float64Array.from(rows);
  const shaped = removeShiftAndTilt(places, all);
  const lens = conditionOnLens(covariance);
  const lensColumn = Float64Array.from({ length: CAMERA_PARAMETERS }, (_, i) =>
    lens.k1Sigma > 0 ? covariance[i * CAMERA_PARAMETERS + K1_PARAMETER]! / lens.k1Sigma : 0,
  );
  const rootMean = (value: (from: number) => number) =>
    Math.sqrt(places.reduce((sum, _, i) => sum + value(i * CAMERA_PARAMETERS), 0) / places.length);
  const sigmaPx = used.length > 0 ? median(used.map((point) => point.sigma)) : POINT_SIGMA_PX;
  return {
    aloneMm: rootMean((from) => evaluateForm(covariance, CAMERA_PARAMETERS, all, from)),
    reliefMm: rootMean((from) => Math.max(0, evaluateForm(lens.rest, CAMERA_PARAMETERS, shaped, from))),
    lensMm: rootMean((from) => lensColumn.reduce((sum, c, k) => sum + c * shaped[from + k]!, 0) ** 2),
    pointMm: sigmaPx * median(perPx),
  };
}

/** Covariance of the camera if k1 were known, and the sigma that k1 has. */
function conditionOnLens(covariance: Float64Array): { rest: Float64Array; k1Sigma: number } {
  const n = CAMERA_PARAMETERS;
  const variance = covariance[K1_PARAMETER * n + K1_PARAMETER]!;
  const rest = covariance.map((value, at) => {
    if (variance === 0) return value;
    const i = Math.floor(at / n);
    const j = at % n;
    return value - (covariance[i * n + K1_PARAMETER]! * covariance[j * n + K1_PARAMETER]!) / variance;
  });
  return { rest, k1Sigma: Math.sqrt(variance) };
}

/** Rows (places x 9) less their least-squares straight line along `s`, column by column. */
function removeShiftAndTilt(s: readonly number[], rows: Float64Array): Float64Array {
  const count = s.length;
  const mean = s.reduce((sum, value) => sum + value, 0) / count;
  const square = s.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const left = Float64Array.from(rows);
  for (let k = 0; k < CAMERA_PARAMETERS; k++) {
    let shift = 0;
    let tilt = 0;
    for (let i = 0; i < count; i++) {
      shift += rows[i * CAMERA_PARAMETERS + k]! / count;
      tilt += (rows[i * CAMERA_PARAMETERS + k]! * (s[i]! - mean)) / square;
    }
    for (let i = 0; i < count; i++) left[i * CAMERA_PARAMETERS + k]! -= shift + tilt * (s[i]! - mean);
  }
  return left;
}

/** The stretch of a sheet on the reference plane that the picture shows (mm), null when it shows none. */
function visibleStretch(camera: Camera, sheet: KnownSheet): { from: number; to: number } | null {
  const middle = sheet.axis === 'level' ? camera.position.along : camera.position.up;
  const seen: number[] = [];
  for (let s = middle - REACH_MM; s <= middle + REACH_MM; s += 50) {
    const { u, v } = imageFromWall(camera, pointOnSheet(sheet, s, 0));
    if (u >= 0 && v >= 0 && u <= camera.widthPx - 1 && v <= camera.heightPx - 1) seen.push(s);
  }
  return seen.length > 1 ? { from: seen[0]!, to: seen[seen.length - 1]! } : null;
}

function spanOf(values: readonly number[]): { from: number; to: number } {
  return {
    from: values.reduce((least, value) => Math.min(least, value), Infinity),
    to: values.reduce((most, value) => Math.max(most, value), -Infinity),
  };
}

function median(values: readonly number[]): number {
  return Float64Array.from(values).sort()[Math.floor((values.length - 1) / 2)]!;
}
