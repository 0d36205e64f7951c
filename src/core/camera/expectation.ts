import { focalPxFrom35 } from './evidence.ts';

/** A photograph not yet taken: the phone's distance off the wall and aside of the light (mm), its lens and picture. */
export interface PlannedPhoto {
  readonly offMm: number;
  /** From the sheet of light: above or below a level line, to the left or right of a plumb one; the sign is no matter. */
  readonly asideMm: number;
  readonly focal35Mm: number;
  readonly longSidePx: number;
  /** Sigma of a point of the line across it, px. */
  readonly pointSigmaPx: number;
}

export interface ExpectedPhoto {
  /** On the wall straight ahead. */
  readonly mmPerPx: number;
  /** How far 1 mm of wall offset moves the line, mm on the wall: aside / off. */
  readonly moveShare: number;
  /** Wall offset that moves the line by one px. */
  readonly outPerPx: number;
  /** Sigma of one point's wall offset. */
  readonly pointMm: number;
  /** Stand at least a third of the distance to the side (`moveShare` of 1/3). */
  readonly asideEnough: boolean;
}

const LEAST_SHARE = 1 / 3;

/**
 * What a planned photograph will show: 1 mm of wall offset moves the line by |aside| / off mm on the wall.
 * Source: DEVELOPERS.md "One photograph" (similar triangles).
 * @example expectPhoto({ offMm: 2500, asideMm: -1000, focal35Mm: 27, longSidePx: 4000, pointSigmaPx: 0.12 }).pointMm // 0.25
 */
export function expectPhoto(planned: PlannedPhoto): ExpectedPhoto {
  const mmPerPx = planned.offMm / focalPxFrom35(planned.focal35Mm, planned.longSidePx);
  const moveShare = Math.abs(planned.asideMm) / planned.offMm;
  const outPerPx = mmPerPx / moveShare;
  return {
    mmPerPx,
    moveShare,
    outPerPx,
    pointMm: planned.pointSigmaPx * outPerPx,
    asideEnough: moveShare >= LEAST_SHARE - 1e-9,
  };
}
