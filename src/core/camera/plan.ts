import type { Photo, Wall } from '../survey.ts';
import { aimRotation } from './aim.ts';
import { imageFromWall, type Camera } from './camera.ts';
import { invertSymmetric } from './dense.ts';
import { countFree, evaluateEvidence, focalPxFrom35, type LensPrior } from './evidence.ts';
import type { WallPoint } from './frames.ts';
import { weighMarks } from './markWeights.ts';
import { predictOffsetSigma } from './offsetSigma.ts';
import { CAMERA_PARAMETERS, packCamera } from './projection.ts';
import { gatherEvidence } from './resect.ts';
import { pointOnSheet, type KnownSheet } from './sheet.ts';

/** A photograph not yet taken: what it is to show, from where, with which phone and evidence. mm, px, sigmas. */
export interface PhotoPlan {
  readonly wall: Pick<Wall, 'width' | 'height'>;
  readonly sheet: KnownSheet;
  readonly stand: WallPoint;
  readonly focal35Mm: number;
  /** The picture is held upright for a plumb line, lying for a level one. */
  readonly longSidePx: number;
  readonly shortSidePx: number;
  readonly lens: LensPrior;
  readonly markCount: number;
  readonly markSigmaPx: number;
  readonly standSigmaMm: number;
  readonly pointSigmaPx: number;
  readonly readingSigmaMm: number;
  /** How far from the laser's plane the room lets one go. */
  readonly roomMm: number;
}

/** What a planned photograph is expected to be worth; sigmas in mm of wall offset. */
export interface PlannedWorth {
  /** On the wall straight ahead. */
  readonly mmPerPx: number;
  /** The stretch of the line that the picture shows (mm along it), null for none, and its share of the line. */
  readonly seen: { readonly from: number; readonly to: number } | null;
  readonly seenShare: number;
  /** Least angle at which the phone looks across the sheet of light, at the ends of what it sees. */
  readonly endAngleRad: number;
  /** One point; the wall's shape with the lens known; the bow of the lens as it is known now. */
  readonly pointMm: number;
  readonly reliefMm: number;
  readonly lensMm: number;
  /** All of it together, and with the readings that it hangs on. */
  readonly shapeMm: number;
  readonly wholeMm: number;
}

/** Marks on a tape this far beside the line (mm), and how well it is known how far off the plane they lie. */
const TAPE_MM = 40;
const MARK_OUT_SIGMA_MM = 8;
/** Share of the picture at its edges that is left free. */
const MARGIN = 0.01;
/** How far from the line towards its own side a phone is aimed: a share of how far aside it stands (common practice, no source). */
const AIM_SHARE = 0.15;
const PLACES = 200;

/** The camera of a plan: the phone held level, aimed at the middle of the line or, as one does, a little to its own side of it. */
export function aimAtLine({ wall, sheet, stand, ...plan }: PhotoPlan): Camera {
  const level = sheet.axis === 'level';
  const at = sheet.at + AIM_SHARE * ((level ? stand.up : stand.along) - sheet.at);
  const target = pointOnSheet({ axis: sheet.axis, at }, (level ? wall.width : wall.height) / 2, 0);
  return {
    position: stand,
    rotationRad: aimRotation(stand, target),
    focalPx: focalPxFrom35(plan.focal35Mm, plan.longSidePx),
    k1: plan.lens.k1,
    k2: plan.lens.k2 ?? 0,
    widthPx: level ? plan.longSidePx : plan.shortSidePx,
    heightPx: level ? plan.shortSidePx : plan.longSidePx,
  };
}

/** The stretch of a plan's line that its picture shows (mm along the line); null where it shows none. */
export function findSeen(plan: PhotoPlan): PlannedWorth['seen'] {
  const camera = aimAtLine(plan);
  const length = plan.sheet.axis === 'level' ? plan.wall.width : plan.wall.height;
  const marginPx = MARGIN * plan.longSidePx;
  const seen: number[] = [];
  for (let i = 0; i <= PLACES; i++) {
    const s = (length * i) / PLACES;
    const { u, v } = imageFromWall(camera, pointOnSheet(plan.sheet, s, 0));
    const inside =
      u >= marginPx && v >= marginPx && u <= camera.widthPx - marginPx && v <= camera.heightPx - marginPx;
    if (inside) seen.push(s);
  }
  return seen.length > 1 ? { from: seen[0]!, to: seen[seen.length - 1]! } : null;
}

/**
 * What a planned photograph will be worth: the camera's covariance from the marks, the stand and the focal length that it will
 * have, carried onto the wall as for a photograph that was taken. NaN where the line is not in the picture, or the evidence
 * leaves the camera undetermined.
 * Source: DEVELOPERS.md "One photograph" (expected sigma).
 */
export function expectPlan(plan: PhotoPlan): PlannedWorth {
  const { sheet, stand, wall } = plan;
  const length = sheet.axis === 'level' ? wall.width : wall.height;
  const camera = aimAtLine(plan);
  const seen = findSeen(plan);
  const sigma = seen && predictPlan(plan, camera, seen);
  const { pointMm = NaN, reliefMm = NaN, lensMm = NaN } = sigma ?? {};
  const shapeMm = Math.hypot(pointMm, reliefMm, lensMm);
  const asideMm = (sheet.axis === 'level' ? stand.up : stand.along) - sheet.at;
  const angles = (seen ? [seen.from, seen.to] : []).map((s) => {
    const end = pointOnSheet(sheet, s, 0);
    const apart = Math.hypot(end.along - stand.along, end.up - stand.up, end.out - stand.out);
    return Math.asin(Math.abs(asideMm) / apart);
  });
  return {
    mmPerPx: stand.out / camera.focalPx,
    seen,
    seenShare: seen ? (seen.to - seen.from) / length : 0,
    endAngleRad: angles.length > 0 ? Math.min(...angles) : NaN,
    pointMm,
    reliefMm,
    lensMm,
    shapeMm,
    wholeMm: Math.hypot(shapeMm, plan.readingSigmaMm),
  };
}

function predictPlan(plan: PhotoPlan, camera: Camera, seen: { from: number; to: number }) {
  const { sheet, stand } = plan;
  const marks = Array.from({ length: plan.markCount }, (_, i) => {
    const share = plan.markCount > 1 ? i / (plan.markCount - 1) : 0.5;
    const s = seen.from + (0.03 + 0.94 * share) * (seen.to - seen.from);
    const { along, up } = pointOnSheet({ axis: sheet.axis, at: sheet.at - TAPE_MM }, s, 0);
    return { ...imageFromWall(camera, { along, up, out: 0 }), along, up, sigma: plan.markSigmaPx };
  });
  const level = sheet.axis === 'level';
  const photo: Photo = {
    id: '',
    file: '',
    phone: '',
    stand: {
      off: stand.out,
      up: level ? stand.up : null,
      along: level ? null : stand.along,
      sigma: plan.standSigmaMm,
    },
    marks,
    tapes: [],
    masks: [],
    lines: [],
    widthPx: camera.widthPx,
    heightPx: camera.heightPx,
    focal35Mm: plan.focal35Mm,
  };
  const evidence = gatherEvidence(photo, plan.lens, { markOutSigmaMm: MARK_OUT_SIGMA_MM });
  const weights = weighMarks(evidence, camera);
  const free = countFree(evidence);
  const residuals = weights && evaluateEvidence(evidence, weights, packCamera(camera).subarray(0, free));
  if (!residuals) return null;
  const { jacobian } = residuals;
  const information = new Float64Array(free * free);
  for (let from = 0; from < jacobian.length; from += free)
    for (let i = 0; i < free; i++)
      for (let j = 0; j < free; j++) information[i * free + j]! += jacobian[from + i]! * jacobian[from + j]!;
  const inverse = invertSymmetric(information, free, 1e-12);
  if (!inverse) return null;
  const covariance = new Float64Array(CAMERA_PARAMETERS * CAMERA_PARAMETERS);
  for (let i = 0; i < free; i++)
    covariance.set(inverse.subarray(i * free, (i + 1) * free), i * CAMERA_PARAMETERS);
  // two points stand for the line: its stretch, and the sigma of a point
  const points = [seen.from, seen.to].map((s) => ({
    ...imageFromWall(camera, pointOnSheet(sheet, s, 0)),
    sigma: plan.pointSigmaPx,
    state: 'found' as const,
  }));
  return predictOffsetSigma({ camera, covariance }, { id: '', colour: 'red', sheet, points, gaps: [] });
}
