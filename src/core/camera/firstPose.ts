import type { Mark } from '../survey.ts';
import { rayFromImage, type Camera } from './camera.ts';
import { pictureSize, type Evidence, type PriorRow } from './evidence.ts';
import { vectorFromRotation, type Rotation, type WallPoint } from './frames.ts';
import { packCamera } from './projection.ts';

type Triple = readonly [number, number, number];

/** Where a phone may have stood when nothing was measured (mm). */
const OFFS_MM = [900, 1400, 2100, 3200, 4800, 7200];
const UPS_MM = [250, 900, 1500, 2200];
/** Sideways of the marks' middle, in distances off the wall. */
const ASIDES = [-1.8, -1.2, -0.8, -0.4, 0, 0.4, 0.8, 1.2, 1.8];
const FOCAL_FACTORS = [0.75, 1, 1.33];
/** Sigma of the logarithm of the focal length above which one start is not enough. */
const FOCAL_LOOSE = 0.1;

/**
 * Cameras to start the resection from, as parameter vectors: places that agree with the measured stand (a coarse grid
 * where it was not measured), each turned so that the two marks farthest apart are seen along their own rays.
 * Source: attitude from two directions, Black 1964, "A passive system for determining the attitude of a satellite",
 * AIAA Journal 2(7) (from memory).
 */
export function listFirstPoses(evidence: Evidence): Float64Array[] {
  const { photo, priors } = evidence;
  const value = (name: PriorRow['name']) => priors.find((row) => row.name === name)?.value;
  const focal = priors.find((row) => row.name === 'focal')!;
  const factors = focal.sigma > FOCAL_LOOSE ? FOCAL_FACTORS : [1];
  const [off, up, along] = [value('off'), value('up'), value('along')];
  const middleMm = photo.marks.reduce((sum, mark) => sum + mark.along, 0) / photo.marks.length;
  const pair = farthestPair(photo.marks);
  const poses: Float64Array[] = [];
  for (const offMm of off === undefined ? OFFS_MM : [off])
    for (const upMm of up === undefined ? UPS_MM : [up])
      for (const alongMm of along === undefined ? ASIDES.map((aside) => middleMm + aside * offMm) : [along])
        for (const factor of factors) {
          const position = { along: alongMm, up: upMm, out: offMm };
          poses.push(turnToMarks(evidence, position, Math.exp(focal.value) * factor, pair));
        }
  return poses;
}

/** A camera at a place, turned so that both marks of a pair are seen along their rays, as near as two rays allow. */
function turnToMarks(
  { photo, markOutMm, k1, k2 }: Evidence,
  position: WallPoint,
  focalPx: number,
  pair: readonly number[],
): Float64Array {
  const facing: Camera = { position, rotationRad: [0, 0, 0], focalPx, k1, k2, ...pictureSize(photo) };
  // as "right, down, forward" of the squarely facing camera
  const seen = pair.map((i): Triple => {
    const ray = rayFromImage(facing, photo.marks[i]!);
    return [ray.along, -ray.up, -ray.out];
  });
  const meant = pair.map((i): Triple => {
    const { along, up } = photo.marks[i]!;
    return [along - position.along, position.up - up, position.out - (markOutMm[i] ?? 0)];
  });
  const rotationRad = vectorFromRotation(alignPair(meant[0]!, meant[1]!, seen[0]!, seen[1]!));
  return packCamera({ ...facing, rotationRad });
}

function farthestPair(marks: readonly Mark[]): [number, number] {
  let best: [number, number] = [0, 1];
  let most = -1;
  for (let i = 0; i < marks.length; i++)
    for (let j = i + 1; j < marks.length; j++) {
      const apart = Math.hypot(marks[i]!.u - marks[j]!.u, marks[i]!.v - marks[j]!.v);
      if (apart > most) {
        most = apart;
        best = [i, j];
      }
    }
  return best;
}

/** Rotation that takes the directions `from` onto `to`: middle onto middle, plane onto plane. */
function alignPair(from1: Triple, from2: Triple, to1: Triple, to2: Triple): Rotation {
  const a = frameOf(from1, from2);
  const b = frameOf(to1, to2);
  const entry = (i: number, j: number) =>
    b[0]![i]! * a[0]![j]! + b[1]![i]! * a[1]![j]! + b[2]![i]! * a[2]![j]!;
  return [
    entry(0, 0),
    entry(0, 1),
    entry(0, 2),
    entry(1, 0),
    entry(1, 1),
    entry(1, 2),
    entry(2, 0),
    entry(2, 1),
    entry(2, 2),
  ];
}

function frameOf(one: Triple, two: Triple): Triple[] {
  const a = unit(one);
  const b = unit(two);
  const middle = unit([a[0] + b[0], a[1] + b[1], a[2] + b[2]]);
  const normal = unit(cross(a, b));
  return [middle, normal, cross(middle, normal)];
}

function cross(a: Triple, b: Triple): Triple {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

function unit(a: Triple): Triple {
  const length = Math.hypot(...a);
  return [a[0] / length, a[1] / length, a[2] / length];
}
