import type { Refusal } from '../refusal.ts';
import type { LaserLine, Photo } from '../survey.ts';
import { describeWeakStand } from './evidenceCheck.ts';
import { predictOffsetSigma } from './offsetSigma.ts';
import type { Resection } from './resect.ts';

/** A line is worth nothing when the camera stands nearer to its sheet than this share of its distance off the wall. */
const LEAST_ASIDE = 0.05;
/** Expected sigma of the wall's relief that is still worth solving with (mm). */
const WEAK_SIGMA_MM = 3;

/** Whether the line's height (or place along) has been typed. */
export function checkLineHeight(photo: Photo, line: LaserLine): Refusal | null {
  return line.sheet.at === null ? { code: 'line_height_missing', photo: photo.id, line: line.id } : null;
}

/**
 * Whether a photographed line can tell the wall's offsets from where the camera stood: its height known, the camera aside
 * of its sheet by at least a twentieth of its distance, and the expected sigma of the wall's relief at most 3 mm. Null
 * when it can.
 */
export function checkLine(photo: Photo, line: LaserLine, resection: Resection): Refusal | null {
  const missing = checkLineHeight(photo, line);
  if (missing) return missing;
  const { position } = resection.camera;
  const asideMm = (line.sheet.axis === 'level' ? position.up : position.along) - line.sheet.at!;
  if (Math.abs(asideMm) < LEAST_ASIDE * position.out)
    return { code: 'stand_on_sheet', photo: photo.id, line: line.id, asideMm };
  const { reliefMm } = predictOffsetSigma(resection, line);
  return reliefMm > WEAK_SIGMA_MM ? describeWeakStand(photo, reliefMm) : null;
}
