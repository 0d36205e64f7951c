import type { ImagePoint } from '../core/camera/frames.ts';
import { GAP_PX, putGaps } from '../core/line/byHand.ts';
import type { Gap, LaserLine, Survey } from '../core/survey.ts';
import { joinGap } from './editGaps.ts';
import { changeLine, itemAt, runAxis } from './editPhoto.ts';

/** An erased place keeps found points away half a column about it where no neighbour tells how far (px). */
const HALF_COLUMN_PX = 0.5;

/**
 * Whether a point lies within a disc that was drawn along a path (px).
 * @example liesUnder([{ u: 0, v: 0 }, { u: 10, v: 0 }], 2, { u: 5, v: 1.5 }) // true
 */
export function liesUnder(path: readonly ImagePoint[], radiusPx: number, { u, v }: ImagePoint): boolean {
  return path.some((to, i) => {
    const from = path[i - 1] ?? to;
    const [du, dv] = [to.u - from.u, to.v - from.v];
    const square = du * du + dv * dv;
    const share = square > 0 ? ((u - from.u) * du + (v - from.v) * dv) / square : 0;
    const near = Math.min(1, Math.max(0, share));
    return Math.hypot(u - from.u - near * du, v - from.v - near * dv) <= radiusPx;
  });
}

/**
 * The survey without the points of a line that lie under a disc drawn along a path (px). Where they were is a gap made by hand,
 * so that they do not come back when the line is looked for again. The same survey where no point lies under it.
 */
export function erasePoints(
  survey: Survey,
  photoId: string,
  lineId: string,
  path: readonly ImagePoint[],
  radiusPx: number,
): Survey {
  return changeLine(survey, photoId, lineId, (line) =>
    withoutPoints(
      line,
      line.points.map((point) => liesUnder(path, radiusPx, point)),
    ),
  );
}

/** The survey without one point of a line; where it was is a gap made by hand. */
export function deletePoint(survey: Survey, photoId: string, lineId: string, index: number): Survey {
  return changeLine(survey, photoId, lineId, (line) => {
    itemAt(line.points, index, 'point');
    return withoutPoints(
      line,
      line.points.map((_, at) => at === index),
    );
  });
}

function withoutPoints(line: LaserLine, isTaken: readonly boolean[]): LaserLine {
  if (!isTaken.includes(true)) return line;
  const byHand = erasedGaps(line, isTaken).reduce<readonly Gap[]>(
    (gaps, gap) => joinGap(gaps, gap),
    line.gaps.filter((gap) => gap.byHand),
  );
  const others = line.gaps.filter((gap) => !gap.byHand);
  return { ...line, points: line.points.filter((_, at) => !isTaken[at]), gaps: putGaps(others, byHand) };
}

/** The stretches of points that are taken away, each half way to the neighbours that stay (px along the run). */
function erasedGaps({ points, sheet }: LaserLine, isTaken: readonly boolean[]): Gap[] {
  const run = runAxis(sheet.axis);
  const falling = points.length > 1 && points[0]![run] > points[points.length - 1]![run];
  const gaps: Gap[] = [];
  const edge = (end: number, beside: number) => {
    const at = points[end]![run];
    const neighbour = points[beside]?.[run];
    if (neighbour === undefined) return { at, room: HALF_COLUMN_PX };
    return { at, room: Math.min(GAP_PX, Math.abs(neighbour - at)) / 2 };
  };
  for (let first = 0; first < points.length; first++) {
    if (!isTaken[first]) continue;
    let last = first;
    while (isTaken[last + 1]) last++;
    const [begin, end] = [edge(first, first - 1), edge(last, last + 1)];
    const [low, high] = falling ? [end, begin] : [begin, end];
    const gap = { from: low.at - low.room, to: high.at + high.room, byHand: true };
    if (gap.from < gap.to) gaps.push(gap);
    first = last;
  }
  return gaps;
}
