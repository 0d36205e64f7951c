import type { LaserLine, LinePoint, Survey } from '../core/survey.ts';
import { changeLine, runAxis } from './editPhoto.ts';
import { HAND_SIGMA_PX } from './editPoints.ts';

/** A push across a line: from where along its run, how far it reaches to either side, and how far it goes (px). */
export interface Push {
  readonly atPx: number;
  readonly reachPx: number;
  readonly byPx: number;
}

/** A point that a push would move by less than this stays as it is (px): less than the best found point is sure of. */
export const LEAST_PUSH_PX = 0.02;

/**
 * Share of a push that a point so far (px along the line) from its middle follows: a raised cosine, 1 in the middle, 0 at the
 * reach and beyond.
 * @example shareOfPush(0, 40) // 1
 * @example shareOfPush(20, 40) // 0.5
 * @example shareOfPush(-41, 40) // 0
 */
export function shareOfPush(apartPx: number, reachPx: number): number {
  const share = Math.abs(apartPx) / reachPx;
  return share < 1 ? (1 + Math.cos(Math.PI * share)) / 2 : 0;
}

/**
 * A line's points with a stretch pushed across it (v of a level line, u of a plumb one), so that their order stays. What moves
 * becomes `moved` (an added one stays `added`) with the sigma of a hand; points left out stay where they are. The same list
 * where nothing moves.
 */
export function pushedPoints(
  { points, sheet }: Pick<LaserLine, 'points' | 'sheet'>,
  { atPx, reachPx, byPx }: Push,
): readonly LinePoint[] {
  const run = runAxis(sheet.axis);
  let moves = false;
  const pushed = points.map((point): LinePoint => {
    if (point.state === 'off') return point;
    const by = byPx * shareOfPush(point[run] - atPx, reachPx);
    if (Math.abs(by) < LEAST_PUSH_PX) return point;
    moves = true;
    const place = run === 'u' ? { v: point.v + by } : { u: point.u + by };
    return { ...point, ...place, sigma: HAND_SIGMA_PX, state: point.state === 'added' ? 'added' : 'moved' };
  });
  return moves ? pushed : points;
}

/** The survey with a stretch of a line pushed across it; the same survey where no point moves. */
export function pushPoints(survey: Survey, photoId: string, lineId: string, push: Push): Survey {
  return changeLine(survey, photoId, lineId, (line) => {
    const points = pushedPoints(line, push);
    return points === line.points ? line : { ...line, points };
  });
}
