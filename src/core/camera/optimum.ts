import type { LaserLine } from '../survey.ts';
import type { Camera } from './camera.ts';
import { completeCamera, countFree, evaluateEvidence, pictureSize, type Evidence } from './evidence.ts';
import { listFirstPoses } from './firstPose.ts';
import { judgeAttitude, judgeLines } from './likelihood.ts';
import { weighMarks } from './markWeights.ts';
import { minimizeSquares, type Minimum } from './levenbergMarquardt.ts';
import { FOCAL_PARAMETER, unpackCamera } from './projection.ts';

/** The camera that fits the evidence best, and a second one elsewhere that fits about as well, where there is one. */
export interface Optima {
  readonly best: Minimum;
  readonly rival: Minimum | null;
}

/** Starts that are tried, the best-fitting first, for so many iterations; then the best of them, to their optimum. */
const STARTS = 12;
const FIRST_ITERATIONS = 10;
const FOLLOWED = 4;
/** On the way to an optimum, cameras nearer than this go to the same one (mm). */
const APPROACH_MM = 100;
/** Optima nearer than this are one (mm). */
const SAME_MM = 1;
/** Squared standardised distance, and distance in mm, within and beyond which a second optimum is told. */
const RIVAL_SCORE = 9;
const RIVAL_APART_MM = 50;
/** A phone stands in the room: so near and so far at most, not further below the floor than a stair or a pit allows (mm). */
const NEAR_MM = 100;
const FAR_MM = 30000;
const BELOW_FLOOR_MM = 500;
/** No lens is further than this factor from what the picture says of it. */
const FOCAL_FACTOR = 3;

/**
 * Least-squares cameras of the evidence, from many starts; among those that fit alike the more usual one (`likelihood.ts`).
 * Where the marks contradict each other so far that no start leads to a place a phone can be at, the best start itself,
 * `stalled`; null where there is none.
 */
export function findOptima(evidence: Evidence, lines: readonly LaserLine[]): Optima | null {
  const starts = listFirstPoses(evidence)
    .map((pose) => followEvidence(evidence, pose, 0))
    .filter((start) => start !== null)
    .sort((a, b) => a.cost - b.cost)
    .slice(0, STARTS);
  const approaches = starts.map((start) => followEvidence(evidence, start.parameters, FIRST_ITERATIONS)!);
  const optima = keepDistinct(approaches, APPROACH_MM)
    .slice(0, FOLLOWED)
    .map((approach) => {
      const minimum = followEvidence(evidence, approach.parameters)!;
      return { ...minimum, iterations: approach.iterations + minimum.iterations };
    })
    .filter((minimum) => isPossible(evidence, minimum));
  const judged = keepDistinct(optima, SAME_MM)
    .map((minimum) => {
      const camera = cameraOf(evidence, minimum);
      return { minimum, score: minimum.cost + judgeAttitude(camera) + judgeLines(camera, lines) };
    })
    .sort((a, b) => a.score - b.score);
  const best = judged[0];
  if (!best) return starts[0] ? { best: { ...starts[0], ended: 'stalled' }, rival: null } : null;
  const rival = judged.find(
    ({ minimum, score }) =>
      score < best.score + RIVAL_SCORE && apartMm(minimum, best.minimum) > RIVAL_APART_MM,
  );
  return { best: best.minimum, rival: rival?.minimum ?? null };
}

/**
 * The least-squares camera reached from a start (its nine parameters, or the free ones), the marks weighed as the start
 * sees them; null where a mark is behind the start.
 */
export function followEvidence(
  evidence: Evidence,
  start: Float64Array,
  maxIterations?: number,
): Minimum | null {
  const picture = pictureSize(evidence.photo);
  const weights = weighMarks(evidence, unpackCamera(completeCamera(evidence, start), picture));
  if (!weights) return null;
  const free = start.subarray(0, countFree(evidence));
  return minimizeSquares(
    (parameters) => evaluateEvidence(evidence, weights, parameters),
    free,
    maxIterations,
  );
}

/** The camera that a minimum's parameters stand for. */
export function cameraOf(evidence: Evidence, { parameters }: Minimum): Camera {
  return unpackCamera(completeCamera(evidence, parameters), pictureSize(evidence.photo));
}

function isPossible({ photo, priors }: Evidence, minimum: Minimum): boolean {
  const { parameters } = minimum;
  const [along, up, out] = [parameters[0]!, parameters[1]!, parameters[2]!];
  const focal = priors.find((row) => row.name === 'focal')!;
  return (
    minimum.ended === 'converged' &&
    out > NEAR_MM &&
    out < FAR_MM &&
    up > -BELOW_FLOOR_MM &&
    up < FAR_MM &&
    Math.abs(along - photo.marks[0]!.along) < FAR_MM &&
    Math.abs(parameters[FOCAL_PARAMETER]! - focal.value) < Math.log(FOCAL_FACTOR)
  );
}

/** Minima by rising cost, without those near a better one. */
function keepDistinct(minima: readonly Minimum[], nearMm: number): Minimum[] {
  return [...minima]
    .sort((a, b) => a.cost - b.cost)
    .filter((minimum, i, all) => !all.slice(0, i).some((other) => apartMm(minimum, other) < nearMm));
}

function apartMm(one: Minimum, other: Minimum): number {
  const [a, b] = [one.parameters, other.parameters];
  return Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!, a[2]! - b[2]!);
}
