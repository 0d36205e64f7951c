import { refuse } from '../refusal.ts';
import type { Photo } from '../survey.ts';
import { CRITICAL_W } from '../checks/baarda.ts';
import { seeBlock } from './block.ts';
import { judgeBlock } from './blockEvidence.ts';
import type { Camera } from './camera.ts';
import { chiSquare999 } from './chiSquare.ts';
import { invertSymmetric } from './dense.ts';
import { checkMarks, checkStand, describeWeakStand } from './evidenceCheck.ts';
import { countFree, countObservations, listPriors, type Evidence, type LensPrior } from './evidence.ts';
import type { WallPoint } from './frames.ts';
import type { Ending } from './levenbergMarquardt.ts';
import { checkLine } from './lineCheck.ts';
import {
  restoreMarks,
  standardizeResiduals,
  type MarkResidual,
  type PriorResidual,
} from './markResiduals.ts';
import { testMoved, type MovedPhoto } from './movedPhone.ts';
import { cameraOf, findOptima, followEvidence, type Optima } from './optimum.ts';
import { CAMERA_PARAMETERS, K1_PARAMETER, packCamera } from './projection.ts';

export type { LensPrior } from './evidence.ts';

export interface ResectContext {
  /** Where each of the photo's marks, left out or not, lies off the reference plane (mm), in their order; 0 where not given. */
  readonly markOutMm?: readonly number[];
  /**
   * How well those are known (sigma, mm); 0 where not given. Before the wall is solved its relief, some 10 mm, moves marks
   * by several px: without it good marks look wrong.
   */
  readonly markOutSigmaMm?: number;
  /** Keep k1 at the lens's value. */
  readonly holdK1?: boolean;
}

/** Where a photograph was taken from, with what speaks for it. */
export interface Resection {
  readonly camera: Camera;
  /**
   * Covariance of along, up, out (mm), rotation vector (rad), log focal length, k1, k2: 9 x 9, row-major; the row and column
   * of k2, and of k1 when it was held, are zero.
   */
  readonly covariance: Float64Array;
  readonly k1Sigma: number;
  /** Root mean square of the marks' residuals, over both coordinates (px). */
  readonly markRmsPx: number;
  readonly markResiduals: readonly MarkResidual[];
  readonly priorResiduals: readonly PriorResidual[];
  /** Indices of marks whose standardised residual passes 3.29 (warning `marks_suspect`), worst first. */
  readonly suspectMarks: readonly number[];
  /** Sum of squared standardised residuals and the number of observations beyond what the unknowns take. */
  readonly chiSquare: number;
  readonly redundancy: number;
  /** Whether marks, stand and focal length agree: chi-square within its 99.9 % point. If not, `listBlunders` says why. */
  readonly agrees: boolean;
  readonly iterations: number;
  readonly ended: Ending;
  /** Of photos of one unmoved phone: how plainly each was taken with the phone turned otherwise, plainest first; empty for one photo alone. */
  readonly moved: readonly MovedPhoto[];
  /** A second place that fits about as well, when there is one: measure the stand more fully. */
  readonly rival: WallPoint | null;
}

/**
 * A swell of the wall lies under several of a tape's marks at once, which by themselves are so precise that they would vote it into
 * the camera's place: taken as nine that say no more than one. On the sample's wall, +-12 mm, single photographs so are placed as well
 * as by the clicks; what the graduations tell comes out in the joint solve, which knows the wall.
 */
const SHARED_RELIEF = 3;
/** Relief of a wall of which nothing is said (mm, sigma): common practice, no source. */
const RELIEF_MM = 8;

/** A pivot of the information matrix (diagonal scaled to 1) under this: an unknown that nothing determines. */
const LEAST_PIVOT = 1e-12;

/**
 * Camera of one photograph from its marks, measured stand, EXIF focal length and lens, by Levenberg-Marquardt from several
 * starts, with its covariance.
 * Refuses as `checkMarks` and `checkStand` do, where the evidence leaves the camera undetermined, and where none of the
 * photo's lines can be used from there; with several lines ask `checkLine` for each.
 * @throws marks_few, marks_at_one_place, mark_outside_picture, stand_missing, stand_weak, stand_on_sheet; Error where the
 * picture's size is missing
 * Source: DEVELOPERS.md "One photograph".
 */
export function resectPhoto(photo: Photo, lens: LensPrior, context: ResectContext = {}): Resection {
  const problem = checkMarks(photo) ?? checkStand(photo);
  if (problem) refuse(problem);
  const evidence = gatherEvidence(photo, lens, context);
  const optima = findOptima(evidence, evidence.photo.lines);
  if (!optima) return refuse(describeWeakStand(photo, Infinity));
  const resection = takeBlocks(evidence, describe(evidence, optima));
  // a camera that marks at odds have put somewhere says nothing about the stand
  if (resection.agrees) refuseWithoutLine(evidence.photo, resection);
  return restoreMarks(photo, context.markOutMm ?? [], resection);
}

/** What is known of a photo's camera: its marks, stand, focal length and, unless held, the lens; nothing of what is left out by hand. */
export function gatherEvidence(photo: Photo, lens: LensPrior, context: ResectContext): Evidence {
  const held = (context.holdK1 ?? false) || lens.sigma === 0;
  const priors = listPriors(photo, held ? null : lens);
  const { marks, lines } = photo;
  return {
    blocks: [],
    photo: {
      ...photo,
      marks: marks.filter(({ leftOut }) => !leftOut),
      lines: lines.filter(({ leftOut }) => !leftOut),
    },
    markOutMm: (context.markOutMm ?? []).filter((_, i) => !marks[i]!.leftOut),
    markOutSigmaMm: context.markOutSigmaMm ?? 0,
    tapeOutSigmaMm: SHARED_RELIEF * (context.markOutSigmaMm ?? RELIEF_MM),
    priors,
    k1: lens.k1,
    k2: lens.k2 ?? 0,
  };
}

/**
 * The resection with the photo's packers as evidence too: those whose thickness is what marks and stand say, within the spread
 * of both. One that is not speaks against itself or against the stand, and `weighBlock` tells which it is.
 */
function takeBlocks(evidence: Evidence, alone: Resection): Resection {
  const { photo } = evidence;
  const blocks = (photo.blocks ?? [])
    .map((block) => seeBlock(alone.camera, photo, block))
    .filter((seen) => seen !== null && Math.abs(judgeBlock(alone, seen)?.w ?? Infinity) <= CRITICAL_W)
    .filter((seen) => seen !== null);
  if (blocks.length === 0 || !alone.agrees) return alone;
  const whole: Evidence = { ...evidence, blocks };
  const best = followEvidence(whole, packCamera(alone.camera));
  return best ? { ...describe(whole, { best, rival: null }), rival: alone.rival } : alone;
}

/** Stops when the photo has lines of known place and none of them can be used from here. */
function refuseWithoutLine(photo: Photo, resection: Resection): void {
  const placed = photo.lines.filter((line) => line.sheet.at !== null);
  const problems = placed.map((line) => checkLine(photo, line, resection));
  const first = problems[0];
  if (first && problems.every((problem) => problem !== null)) refuse(first);
}

function describe(evidence: Evidence, { best, rival }: Optima): Resection {
  const free = countFree(evidence);
  const redundancy = countObservations(evidence) - free;
  const inverse = invertSymmetric(best.information, free, LEAST_PIVOT);
  if (!inverse) return refuse(describeWeakStand(evidence.photo, Infinity));
  const covariance = new Float64Array(CAMERA_PARAMETERS * CAMERA_PARAMETERS);
  for (let i = 0; i < free; i++)
    covariance.set(inverse.subarray(i * free, (i + 1) * free), i * CAMERA_PARAMETERS);
  const camera = cameraOf(evidence, best);
  return {
    camera,
    covariance,
    k1Sigma: Math.sqrt(covariance[K1_PARAMETER * CAMERA_PARAMETERS + K1_PARAMETER]!),
    ...standardizeResiduals(evidence, camera, best.residuals, inverse),
    moved: testMoved(evidence, best.residuals, inverse),
    chiSquare: best.cost,
    redundancy,
    agrees: redundancy === 0 || best.cost <= chiSquare999(redundancy),
    iterations: best.iterations,
    ended: best.ended,
    rival: rival && cameraOf(evidence, rival).position,
  };
}
