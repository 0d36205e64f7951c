import type { Camera } from '../camera/camera.ts';
import { predictCorridor, type Corridor } from '../camera/corridor.ts';
import { knownSheet } from '../camera/sheet.ts';
import type { LaserLine, Wall } from '../survey.ts';

/**
 * The wall lies between these offsets from the laser's plane (mm), and the camera may be wrong by this share
 * of the picture.
 */
const OUT_RANGE_MM = { from: -200, to: 50 };
const MARGIN = 0.02;

/** Where a line of the survey must be seen in a picture of this long side (px); null while its place is not typed. */
export function expectCorridor(
  camera: Camera,
  line: LaserLine,
  wall: Wall,
  longSidePx: number,
): Corridor | null {
  if (line.sheet.at === null) return null;
  return predictCorridor(camera, knownSheet(line), wall, OUT_RANGE_MM, MARGIN * longSidePx);
}
