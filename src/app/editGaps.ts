import type { Gap, LinePoint, Survey } from '../core/survey.ts';
import { changeLine, itemAt, runAxis } from './editPhoto.ts';
import { usePoint } from './editPoints.ts';

/**
 * Gaps with one more, joined with those it overlaps, in rising order; one joined with a gap made by hand is one too.
 * @example joinGap([{ from: 0, to: 5 }, { from: 20, to: 30 }], { from: 4, to: 10 }) // [{ from: 0, to: 10 }, { from: 20, to: 30 }]
 */
export function joinGap(gaps: readonly Gap[], gap: Gap): readonly Gap[] {
  let joined = gap;
  const apart: Gap[] = [];
  for (const each of [...gaps].sort((a, b) => a.from - b.from))
    if (each.from < joined.to && joined.from < each.to)
      joined = {
        from: Math.min(each.from, joined.from),
        to: Math.max(each.to, joined.to),
        ...(each.byHand || joined.byHand ? { byHand: true } : {}),
      };
    else apart.push(each);
  return [...apart, joined].sort((a, b) => a.from - b.from);
}

const lies = (atPx: number, gap: Gap) => gap.from <= atPx && atPx <= gap.to;

/**
 * The survey with a stretch of a line (px along its run, either way round) marked as having no line: its points are left
 * out, a gap that it overlaps is joined with it, and it stays when the line is looked for again. A stretch of no length,
 * or one that is a gap already, changes nothing.
 */
export function markGap(
  survey: Survey,
  photoId: string,
  lineId: string,
  fromPx: number,
  toPx: number,
): Survey {
  if (fromPx === toPx) return survey;
  return changeLine(survey, photoId, lineId, (line) => {
    const run = runAxis(line.sheet.axis);
    const wanted = { from: Math.min(fromPx, toPx), to: Math.max(fromPx, toPx), byHand: true };
    const gaps = joinGap(line.gaps, wanted);
    const whole = gaps.find((gap) => gap.from <= wanted.from && wanted.to <= gap.to)!;
    const points = line.points.map((point): LinePoint =>
      point.state !== 'off' && lies(point[run], whole) ? { ...point, state: 'off' } : point,
    );
    const isNew = points.some((point, at) => point !== line.points[at]);
    return isNew || !line.gaps.some((gap) => isSameGap(gap, whole)) ? { ...line, points, gaps } : line;
  });
}

const isSameGap = (one: Gap, other: Gap) =>
  one.from === other.from && one.to === other.to && !one.byHand === !other.byHand;

/** The survey without one gap of a line; the points that lay left out in it are used again. */
export function removeGap(survey: Survey, photoId: string, lineId: string, index: number): Survey {
  return changeLine(survey, photoId, lineId, (line) => {
    const run = runAxis(line.sheet.axis);
    const gap = itemAt(line.gaps, index, 'gap');
    const gaps = line.gaps.filter((_, at) => at !== index);
    const points = line.points.map((point) =>
      lies(point[run], gap) && !gaps.some((other) => lies(point[run], other)) ? usePoint(point) : point,
    );
    return { ...line, points, gaps };
  });
}
