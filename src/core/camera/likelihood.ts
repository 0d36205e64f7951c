import type { LaserLine } from '../survey.ts';
import { wallFromImageOnSheet, type Camera } from './camera.ts';
import { cameraFromWallRotation } from './frames.ts';
import { alongSheet, knownSheet } from './sheet.ts';

/**
 * What is usual, on the scale of a squared standardised residual. It chooses between places of the camera that fit the
 * marks alike (two marks at one height look the same from either side) and never bends the one chosen.
 */

/** How far a phone is held from upright (rad; common practice, no source). */
const ROLL_USUAL_RAD = 0.1;
const TILT_USUAL_RAD = 0.4;
/** How far a wall runs off the laser's plane along one line, mm per mm (common practice, no source). */
const SLOPE_USUAL = 0.03;
/** Points at each end of a line that its slope is taken from, as a share. */
const END_SHARE = 0.2;

/** How unusual it is to hold a phone like this; 0 = upright and facing straight ahead. */
export function judgeAttitude(camera: Camera): number {
  const r = cameraFromWallRotation(camera.rotationRad);
  // r[1], r[4] and r[7]: how far the camera's right, down and forward axes rise above the level
  return (Math.atan2(r[1], -r[4]) / ROLL_USUAL_RAD) ** 2 + (Math.asin(r[7]) / TILT_USUAL_RAD) ** 2;
}

/** How unusual the walls are that a photo's lines would show from this camera; Infinity where a ray misses its sheet. */
export function judgeLines(camera: Camera, lines: readonly LaserLine[]): number {
  return lines.reduce((sum, line) => {
    const slope = line.sheet.at === null ? null : measureSlope(camera, line);
    return slope === null ? sum : sum + (slope / SLOPE_USUAL) ** 2;
  }, 0);
}

/** Slope of the wall along a line (mm per mm) between the medians of its two ends; null with fewer than four points. */
function measureSlope(camera: Camera, line: LaserLine): number | null {
  const sheet = knownSheet(line);
  const spots = line.points
    .filter((point) => point.state !== 'off')
    .map((point) => wallFromImageOnSheet(camera, point, sheet))
    .map((spot) => ({ s: alongSheet(sheet, spot), out: spot.out }))
    .filter((spot) => Number.isFinite(spot.out))
    .sort((a, b) => a.s - b.s);
  if (spots.length < 4) return null;
  const count = Math.max(1, Math.floor(spots.length * END_SHARE));
  const ends = [spots.slice(0, count), spots.slice(-count)].map((end) => ({
    s: middle(end.map((spot) => spot.s)),
    out: middle(end.map((spot) => spot.out)),
  }));
  return (ends[1]!.out - ends[0]!.out) / (ends[1]!.s - ends[0]!.s);
}

function middle(values: readonly number[]): number {
  return Float64Array.from(values).sort()[Math.floor(values.length / 2)]!;
}
