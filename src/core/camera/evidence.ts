import type { Photo } from '../survey.ts';
import { measureBlock, type SeenBlock } from './block.ts';
import type { Residuals } from './levenbergMarquardt.ts';
import {
  CAMERA_PARAMETERS,
  FOCAL_PARAMETER,
  K1_PARAMETER,
  K2_PARAMETER,
  projectPoint,
  unpackCamera,
} from './projection.ts';

/** What is known of a lens before the photograph: k1 with its standard deviation, and k2 (missing = 0), which one photograph does not tell. */
export interface LensPrior {
  readonly k1: number;
  readonly sigma: number;
  readonly k2?: number;
}

/** A value known of one camera parameter from outside the picture, with its sigma in the parameter's unit. */
export interface PriorRow {
  readonly name: 'along' | 'up' | 'off' | 'focal' | 'k1';
  readonly parameter: number;
  readonly value: number;
  readonly sigma: number;
}

/** EXIF's 35 mm focal length as a sigma of its logarithm: rounding 2 %, makers' definitions up to 6 %. */
const FOCAL_SIGMA = 0.04;
/** No EXIF: phones' main cameras lie about 24-28 mm, others 13-75 mm (common practice, no source). */
const FOCAL_UNKNOWN_MM = 26;
const FOCAL_UNKNOWN_SIGMA = 0.3;
/** Width of the 35 mm frame that the EXIF focal length refers to. */
const FRAME_WIDTH_MM = 36;

/** Size of the upright picture (px). @throws Error where the photo has none: a bug at this point */
export function pictureSize(photo: Photo): { widthPx: number; heightPx: number } {
  const { widthPx, heightPx } = photo;
  if (!(widthPx! > 0 && heightPx! > 0))
    throw new Error(`photo ${photo.id}: expected the picture's size in px, got ${widthPx} x ${heightPx}`);
  return { widthPx: widthPx!, heightPx: heightPx! };
}

/** Focal length in px of a 35 mm equivalent (mm) on a picture of that size. @example focalPxFrom35(26, 3600) // 2600 */
export function focalPxFrom35(focal35Mm: number, longSidePx: number): number {
  return (focal35Mm / FRAME_WIDTH_MM) * longSidePx;
}

/**
 * What a picture's EXIF focal length (35 mm equivalent) says, with the sigma of its logarithm; a zero, as some pictures have, is none.
 * @example priorFocal(0) // { focal35Mm: 26, sigma: 0.3 }
 */
export function priorFocal(exif35Mm: number | null | undefined): { focal35Mm: number; sigma: number } {
  return (exif35Mm ?? 0) > 0
    ? { focal35Mm: exif35Mm!, sigma: FOCAL_SIGMA }
    : { focal35Mm: FOCAL_UNKNOWN_MM, sigma: FOCAL_UNKNOWN_SIGMA };
}

/** Everything known of the camera besides the marks: measured stand, focal length, lens (left out when held). */
export function listPriors(photo: Photo, lens: LensPrior | null): PriorRow[] {
  const { widthPx, heightPx } = pictureSize(photo);
  const { along, up, off, sigma } = photo.stand;
  const focal = priorFocal(photo.focal35Mm);
  const rows: PriorRow[] = [];
  if (along !== null) rows.push({ name: 'along', parameter: 0, value: along, sigma });
  if (up !== null) rows.push({ name: 'up', parameter: 1, value: up, sigma });
  if (off !== null) rows.push({ name: 'off', parameter: 2, value: off, sigma });
  rows.push({
    name: 'focal',
    parameter: FOCAL_PARAMETER,
    value: Math.log(focalPxFrom35(focal.focal35Mm, Math.max(widthPx, heightPx))),
    sigma: focal.sigma,
  });
  if (lens) rows.push({ name: 'k1', parameter: K1_PARAMETER, value: lens.k1, sigma: lens.sigma });
  return rows;
}

/** All that is known of one photograph's camera; `k1` and `k2` are the lens's values, held where no prior names them. */
export interface Evidence {
  readonly photo: Photo;
  /** Where each mark lies off the reference plane (mm). */
  readonly markOutMm: readonly number[];
  /** How well those offsets are known. */
  readonly markOutSigmaMm: number;
  /** How well the offsets under a tape's graduations are known, as they share them. */
  readonly tapeOutSigmaMm: number;
  readonly priors: readonly PriorRow[];
  readonly k1: number;
  readonly k2: number;
  /** Packers whose thickness speaks for the camera. */
  readonly blocks: readonly SeenBlock[];
}

/** Number of observations: two for a mark, one for a graduation, one for each prior and packer. */
export function countObservations({ photo, priors, blocks }: Evidence): number {
  const graduations = photo.marks.filter(({ only }) => only).length;
  return 2 * photo.marks.length - graduations + priors.length + blocks.length;
}

/** Number of camera parameters that the evidence leaves free: 8 (all but k2), or 7 with k1 held. */
export function countFree({ priors }: Evidence): number {
  return priors.some((row) => row.name === 'k1') ? K2_PARAMETER : K1_PARAMETER;
}

/** A camera's nine parameters from the first of them, those that are missing at the lens's values. */
export function completeCamera({ k1, k2 }: Pick<Evidence, 'k1' | 'k2'>, first: Float64Array): Float64Array {
  const all = new Float64Array(CAMERA_PARAMETERS);
  all[K1_PARAMETER] = k1;
  all[K2_PARAMETER] = k2;
  all.set(first);
  return all;
}

/**
 * Standardised residuals of marks (two each, by their `weighMarks`), priors and packers at a camera given by its free parameters
 * (the first 8 or 7), the others at the lens's values; null where a mark is behind the camera.
 */
export function evaluateEvidence(
  evidence: Evidence,
  weights: Float64Array,
  free: Float64Array,
): Residuals | null {
  const { photo, markOutMm, priors, blocks } = evidence;
  const n = free.length;
  const all = completeCamera(evidence, free);
  const camera = unpackCamera(all, pictureSize(photo));
  const rows = 2 * photo.marks.length + priors.length + blocks.length;
  const values = new Float64Array(rows);
  const jacobian = new Float64Array(rows * n);
  for (let i = 0; i < photo.marks.length; i++) {
    const mark = photo.marks[i]!;
    const image = projectPoint(camera, { along: mark.along, up: mark.up, out: markOutMm[i] ?? 0 });
    if (!image) return null;
    for (let row = 0; row < 2; row++) {
      const byU = weights[4 * i + 2 * row]!;
      const byV = weights[4 * i + 2 * row + 1]!;
      const at = 2 * i + row;
      values[at] = byU * (image.u - mark.u) + byV * (image.v - mark.v);
      for (let k = 0; k < n; k++)
        jacobian[at * n + k] = byU * image.byCamera[k]! + byV * image.byCamera[CAMERA_PARAMETERS + k]!;
    }
  }
  priors.forEach((prior, i) => {
    const row = 2 * photo.marks.length + i;
    values[row] = (all[prior.parameter]! - prior.value) / prior.sigma;
    jacobian[row * n + prior.parameter] = 1 / prior.sigma;
  });
  for (let i = 0; i < blocks.length; i++) {
    const seen = blocks[i]!;
    const measured = measureBlock(camera, seen);
    if (!measured) return null;
    const row = 2 * photo.marks.length + priors.length + i;
    // a sigma that moved with the camera would draw it to where the packer is seen worst
    const sigma = Math.hypot(seen.block.sigma, seen.sigmaMm);
    values[row] = (measured.thicknessMm - seen.block.thickness) / sigma;
    for (let k = 0; k < n; k++) jacobian[row * n + k] = measured.byCamera[k]! / sigma;
  }
  return { values, jacobian };
}
