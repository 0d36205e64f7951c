import type { Photo, StepBlock } from '../survey.ts';
import { measureBlock, seeBlock, type SeenBlock } from './block.ts';
import { evaluateForm } from './dense.ts';
import { CAMERA_PARAMETERS } from './projection.ts';
import type { Resection } from './resect.ts';

/** What a packer of known thickness says of where its photograph was taken from. */
export interface BlockEvidence {
  /** The thickness that the photo shows by its own resection (mm), and its sigma: points, the wall beside, the camera. */
  readonly measuredMm: number;
  readonly sigmaMm: number;
  /** Measured less stated thickness over the sigma of both: beyond 3.29 they do not agree. */
  readonly w: number;
}

/** What is needed of a resection. */
type Placed = Pick<Resection, 'camera' | 'covariance'>;

/**
 * The thickness of a packer as its photograph measures it, beside the one that was typed: `out` of its face less that of the
 * wall beside. For evidence of its own the resection must not have used the packer: resect the photo without its `blocks`.
 * Null where the line is not there, its height is not typed, or the packer's face or the wall beside shows too few points.
 * Source: DEVELOPERS.md "One photograph"; propagation of covariance.
 */
export function weighBlock(resection: Placed, photo: Photo, block: StepBlock): BlockEvidence | null {
  const seen = seeBlock(resection.camera, photo, block);
  return seen && judgeBlock(resection, seen);
}

/** The same of a packer already seen; null where a ray misses the sheet. */
export function judgeBlock({ camera, covariance }: Placed, seen: SeenBlock): BlockEvidence | null {
  const measured = measureBlock(camera, seen);
  if (!measured) return null;
  const { thicknessMm, byCamera } = measured;
  const sigmaMm = Math.sqrt(seen.sigmaMm ** 2 + evaluateForm(covariance, CAMERA_PARAMETERS, byCamera));
  const w = (thicknessMm - seen.block.thickness) / Math.hypot(sigmaMm, seen.block.sigma);
  return { measuredMm: thicknessMm, sigmaMm, w };
}
