import type { ImagePoint } from '../core/camera/frames.ts';
import type { Gap, LaserLine, LinePoint, Survey } from '../core/survey.ts';
import { changeLine, itemAt, replaceAt, runAxis } from './editPhoto.ts';

/** Standard deviation across the line of a point set by hand (px): common practice, no source. */
export const HAND_SIGMA_PX = 0.5;

/**
 * Points with one more, put where it belongs along the run; the order may be rising or falling and stays so.
 * @example insertInOrder([{ u: 1, v: 0 }, { u: 5, v: 0 }], { u: 3, v: 0 }, 'u')[1].u // 3
 */
export function insertInOrder<T extends ImagePoint>(points: readonly T[], point: T, run: 'u' | 'v'): T[] {
  const falling = points.length > 1 && points[0]![run] > points[points.length - 1]![run];
  const after = points.findIndex((each) => (falling ? each[run] < point[run] : each[run] > point[run]));
  const at = after < 0 ? points.length : after;
  return [...points.slice(0, at), point, ...points.slice(at)];
}

/** Whether a point fits between the neighbours that the one at `index` has, in the order the other points keep. */
function fitsAt(points: readonly ImagePoint[], index: number, point: ImagePoint, run: 'u' | 'v'): boolean {
  const others = points.filter((_, at) => at !== index);
  const falling = others.length > 1 && others[0]![run] > others[others.length - 1]![run];
  const [before, after] = [others[index - 1], others[index]];
  const sign = falling ? -1 : 1;
  return (
    (before === undefined || sign * (point[run] - before[run]) >= 0) &&
    (after === undefined || sign * (after[run] - point[run]) >= 0)
  );
}

/**
 * Gaps cut at a place (px along the run) where a point was set by hand, so that no point in use lies inside a gap.
 * @example cutGaps([{ from: 0, to: 9 }], 4) // [{ from: 0, to: 4 }, { from: 4, to: 9 }]
 */
export function cutGaps(gaps: readonly Gap[], atPx: number): readonly Gap[] {
  if (!gaps.some(({ from, to }) => from < atPx && atPx < to)) return gaps;
  return gaps.flatMap((gap) =>
    gap.from < atPx && atPx < gap.to
      ? [
          { ...gap, to: atPx },
          { ...gap, from: atPx },
        ]
      : [gap],
  );
}

/** The line with points of which one was set, or set right, by hand: that one cuts the gap it lies in. */
function withPoints(line: LaserLine, points: readonly LinePoint[], set: ImagePoint): LaserLine {
  return { ...line, points, gaps: cutGaps(line.gaps, set[runAxis(line.sheet.axis)]) };
}

/**
 * The survey with one point of a line moved by hand (px). It becomes `moved` (an added one stays `added`), takes the sigma
 * of a hand, and is put in order again if it passed a neighbour.
 */
export function movePoint(
  survey: Survey,
  photoId: string,
  lineId: string,
  index: number,
  to: ImagePoint,
): Survey {
  return changeLine(survey, photoId, lineId, (line) => {
    const point = itemAt(line.points, index, 'point');
    const state = point.state === 'added' ? 'added' : 'moved';
    const moved: LinePoint = { ...point, u: to.u, v: to.v, sigma: HAND_SIGMA_PX, state };
    const run = runAxis(line.sheet.axis);
    if (fitsAt(line.points, index, moved, run))
      return withPoints(line, replaceAt(line.points, index, moved), moved);
    const others = line.points.filter((_, at) => at !== index);
    return withPoints(line, insertInOrder(others, moved, run), moved);
  });
}

/** The survey with a point added by hand (px), in order along the line. */
export function addPoint(survey: Survey, photoId: string, lineId: string, at: ImagePoint): Survey {
  return changeLine(survey, photoId, lineId, (line) => {
    const added: LinePoint = { u: at.u, v: at.v, sigma: HAND_SIGMA_PX, state: 'added' };
    return withPoints(line, insertInOrder(line.points, added, runAxis(line.sheet.axis)), added);
  });
}

/** The survey with the points from `first` to `last` left out: they stay where they are and count for nothing. */
export function leaveOutPoints(
  survey: Survey,
  photoId: string,
  lineId: string,
  first: number,
  last: number,
): Survey {
  return setPoints(survey, photoId, lineId, first, last, (point) =>
    point.state === 'off' ? point : { ...point, state: 'off' },
  );
}

/** The survey with a point that was left out used again; it cuts the gap it lies in. */
export function restorePoint(survey: Survey, photoId: string, lineId: string, index: number): Survey {
  return changeLine(survey, photoId, lineId, (line) => {
    const point = itemAt(line.points, index, 'point');
    const used = usePoint(point);
    return used === point ? line : withPoints(line, replaceAt(line.points, index, used), used);
  });
}

/** The survey with the suspects from `first` to `last` taken as right; any other point stays as it is. */
export function acceptSuspects(
  survey: Survey,
  photoId: string,
  lineId: string,
  first: number,
  last: number,
): Survey {
  return setPoints(survey, photoId, lineId, first, last, (point) =>
    point.state === 'suspect' ? { ...point, state: 'found' } : point,
  );
}

/** A point that was left out, used again: the sigma tells whether a hand or the finder had set it. */
export function usePoint(point: LinePoint): LinePoint {
  if (point.state !== 'off') return point;
  return { ...point, state: point.sigma === HAND_SIGMA_PX ? 'moved' : 'found' };
}

function setPoints(
  survey: Survey,
  photoId: string,
  lineId: string,
  first: number,
  last: number,
  change: (point: LinePoint) => LinePoint,
): Survey {
  return changeLine(survey, photoId, lineId, (line) => {
    itemAt(line.points, first, 'point');
    itemAt(line.points, last, 'point');
    const points = line.points.map((point, at) => (first <= at && at <= last ? change(point) : point));
    return points.some((point, at) => point !== line.points[at]) ? { ...line, points } : line;
  });
}
