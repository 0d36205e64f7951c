import type { WallFrame } from './frame.ts';
import { writeLength, type Units } from './length.ts';
import { look, type Pen } from './look.ts';
import type { Area } from './room.ts';
import { label, textRoom } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';

/** A running measure from one edge of a board: where it is, and how far over the board its line runs (mm). */
export interface Measure {
  readonly atMm: number;
  readonly reachMm: number;
  /** The board's own size, written heavier. */
  readonly whole?: boolean;
}

/** Which edge the measures stand at: under the board, or beside it. */
export type MeasuredEdge = 'bottom' | 'left' | 'right';

/**
 * Places for texts along an edge, each as near as can be to where it is wanted (`wanted` in order, least square sum), no two closer than
 * `apart`, none outside `least`..`most` where there is room for all. Source: regression under order constraints by pooling adjacent
 * violators (Ayer et al. 1955; from memory).
 * @example spreadPlaces([10, 11, 50], 5, 0, 100) // [8, 13, 50]
 * @example spreadPlaces([1, 2], 10, 0, 100) // [0, 10]
 */
export function spreadPlaces(
  wanted: readonly number[],
  apart: number,
  least: number,
  most: number,
): number[] {
  const pools: { sum: number; count: number }[] = [];
  wanted.forEach((place, k) => {
    pools.push({ sum: place - k * apart, count: 1 });
    for (let last = pools.at(-1)!, before = pools.at(-2); before; before = pools.at(-2)) {
      if (before.sum / before.count <= last.sum / last.count) break;
      last = { sum: before.sum + last.sum, count: before.count + last.count };
      pools.splice(-2, 2, last);
    }
  });
  const shifts = pools.flatMap(({ sum, count }) => new Array<number>(count).fill(sum / count));
  const widest = Math.max(least, most - (wanted.length - 1) * apart);
  return shifts.map((shift, k) => Math.min(Math.max(shift, least), widest) + k * apart);
}

/**
 * Measures without those that read the same: of two within half a millimetre the longer line is kept.
 * @example mergeMeasures([{ atMm: 5, reachMm: 2 }, { atMm: 5.2, reachMm: 9 }, { atMm: 1, reachMm: 1 }]) // [{ atMm: 1, reachMm: 1 }, { atMm: 5.2, reachMm: 9 }]
 */
export function mergeMeasures(measures: readonly Measure[]): Measure[] {
  const sorted = [...measures].sort((a, b) => a.atMm - b.atMm);
  return sorted.reduce<Measure[]>((kept, measure) => {
    const last = kept.at(-1);
    if (last === undefined || measure.atMm - last.atMm > 0.5) return [...kept, measure];
    const longer = measure.whole || (!last.whole && measure.reachMm > last.reachMm) ? measure : last;
    return [...kept.slice(0, -1), longer];
  }, []);
}

const leaderShare = { stub: 0.4, out: 1.3 };

/** How far from the board the texts of its measures begin, in letters. */
const measureGap = leaderShare.out + 0.25;

/** How much wider bold letters run, at most. */
const boldWider = 1.1;

const widestText = (measures: readonly Measure[], units: Units, pen: Pen) =>
  Math.max(
    0,
    ...measures.map(
      ({ atMm, whole }) => (whole ? boldWider : 1) * textRoom(writeLength(atMm, units, 1), pen.font),
    ),
  );

/** Width (drawing units) that the measures beside a board need, their leaders with them. */
export function roomBeside(measures: readonly Measure[], units: Units, pen: Pen): number {
  return measures.length === 0 ? 0 : widestText(measures, units, pen) + (measureGap + 0.2) * pen.font;
}

/** Whether the texts under a board stand upright because they would not fit beside each other. */
function areTurned(measures: readonly Measure[], frame: WallFrame, units: Units, pen: Pen): boolean {
  const apart = widestText(measures, units, pen) + 0.4 * pen.font;
  return measures.slice(1).some(({ atMm }, k) => (atMm - measures[k]!.atMm) * frame.perMm < apart);
}

/** Height (drawing units) that the measures under a board need. */
export function roomUnder(measures: readonly Measure[], frame: WallFrame, units: Units, pen: Pen): number {
  const text = areTurned(measures, frame, units, pen) ? widestText(measures, units, pen) : pen.font;
  return text + (measureGap + 0.6) * pen.font;
}

/** The areas that the fine lines of measures cross, for texts to keep off. */
export function listCrossed(measures: readonly Measure[], edge: MeasuredEdge, frame: WallFrame): Area[] {
  return measures
    .filter(({ reachMm }) => reachMm > 0)
    .map(({ atMm, reachMm }) => {
      const [x, y] = [frame.x(atMm), frame.y(atMm)];
      if (edge === 'bottom') return { left: x, right: x, top: frame.y(reachMm), bottom: frame.bottom };
      return { left: frame.left, right: frame.x(reachMm), top: y, bottom: y };
    });
}

/**
 * Running measures at one edge of a board that stands in `frame` (mm from its lower left corner): a fine line over the board to what is
 * measured, a leader where the text had to be moved aside, and the length.
 */
export function drawMeasures(
  measures: readonly Measure[],
  edge: MeasuredEdge,
  frame: WallFrame,
  units: Units,
  pen: Pen,
): SvgNode {
  const { font } = pen;
  const texts = measures.map(({ atMm }) => writeLength(atMm, units, 1));
  const isBottom = edge === 'bottom';
  const places = measures.map(({ atMm }) => (isBottom ? frame.x(atMm) : -frame.y(atMm)));
  const turned = isBottom && areTurned(measures, frame, units, pen);
  const apart = isBottom && !turned ? 0 : 1.25 * font;
  const [least, most] = isBottom
    ? [frame.left - 2 * font, frame.right + 2 * font]
    : [-frame.bottom - 2 * font, -frame.top + font];
  const spread = apart === 0 ? places : spreadPlaces(places, apart, least, most);
  const out = edge === 'left' ? -1 : 1;
  const base = isBottom ? frame.bottom : edge === 'left' ? frame.left : frame.right;
  const stub = base + out * leaderShare.stub * font;
  const end = base + out * leaderShare.out * font;
  const textAt = base + out * measureGap * font;
  const point = (across: number, along: number) =>
    isBottom
      ? `${formatNumber(along)},${formatNumber(across)}`
      : `${formatNumber(across)},${formatNumber(-along)}`;
  return element(
    'g',
    { fill: 'none' },
    ...measures.flatMap(({ reachMm, whole = false }, k) => {
      const inward = base - out * reachMm * frame.perMm;
      const [at, to] = [places[k]!, spread[k]!];
      const style = {
        size: font,
        bold: whole,
        fill: look.pencil,
        anchor: edge === 'right' ? 'start' : isBottom && !turned ? 'middle' : 'end',
      } as const;
      return [
        element('path', {
          d: `M${point(inward, at)}L${point(base, at)}`,
          stroke: look.edge,
          'stroke-width': pen.hair,
        }),
        element('path', {
          d: `M${point(base, at)}L${point(stub, at)}L${point(end, to)}`,
          stroke: look.graphite,
          'stroke-width': pen.thin,
        }),
        isBottom
          ? label(texts[k]!, to, turned ? textAt : textAt + 0.5 * font, { ...style, turned })
          : label(texts[k]!, textAt, -to, style),
      ];
    }),
  );
}
