import type { Board } from '../../results.ts';

/** Two boards whose edges stand no further apart than this meet in a joint (mm): cut edges take a 3 mm gap. */
const widestJointMm = 8;

/** Length along which two stretches overlap (mm). */
const overlap = (from: number, length: number, otherFrom: number, otherLength: number) =>
  Math.min(from + length, otherFrom + otherLength) - Math.max(from, otherFrom);

/** Length (mm) of the joint of two boards, 0 where they do not meet. */
function measureJoint(a: Board, b: Board): number {
  const acrossMm = overlap(a.along, a.width, b.along, b.width);
  const upMm = overlap(a.up, a.height, b.up, b.height);
  const isGap = (lengthMm: number) => Math.abs(lengthMm) <= widestJointMm;
  if (isGap(acrossMm) && upMm > widestJointMm) return upMm;
  return isGap(upMm) && acrossMm > widestJointMm ? acrossMm : 0;
}

/** The joints between boards: how many, and their length together (mm). */
export function measureJoints(boards: readonly Board[]): {
  readonly joints: number;
  readonly lengthMm: number;
} {
  const lengths = boards.flatMap((a, i) => boards.slice(i + 1).map((b) => measureJoint(a, b)));
  const joints = lengths.filter((lengthMm) => lengthMm > 0);
  return { joints: joints.length, lengthMm: joints.reduce((total, lengthMm) => total + lengthMm, 0) };
}
