import { scaleLinear } from 'd3';
import type { Residual } from '../core/results.ts';
import { writeLength, type Units } from './length.ts';
import { look, makePen, type Pen } from './look.ts';
import { label, textRoom } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';

/** One item of a chart of residuals, with the name it is shown under. */
export interface WhiskerRow {
  readonly name: string;
  readonly residual: Residual;
}

export interface WhiskerSize {
  readonly widthPx?: number;
  readonly fontPx?: number;
  readonly units?: Units;
}

/** Two-sided 0.1 % of the normal distribution, the limit of Baarda's w. */
const criticalW = 3.29;
/** Least half width of the chart, mm. */
const leastReachMm = 1;
/** A dot further out than this many times the widest limit is drawn at the chart's edge. */
const reachOverLimit = 1.25;

/**
 * How far a residual may lie from 0 by chance (mm, 3.29 of its sigmas): its sigma is sigma sqrt(r) where it took part, sigma / sqrt(r) where
 * it was left out and stands against the others' prediction. NaN where nothing checks it.
 * Source: Baarda 1968; Cook & Weisberg 1982, 2.2.2 (deletion residual).
 * @example limitOf({ kind: 'reading', subject: 'r1', part: 'distance', residualMm: 1, sigmaMm: 2, w: 1, redundancy: 0.25, detectableMm: 9, errorMm: 4, state: 'used' }) // 3.29
 */
export function limitOf({ sigmaMm, redundancy, state }: Residual): number {
  if (!(redundancy > 0)) return NaN;
  const tookPart = state === 'used' || state === 'suspect';
  return criticalW * (tookPart ? sigmaMm * Math.sqrt(redundancy) : sigmaMm / Math.sqrt(redundancy));
}

function drawRow(
  { name, residual }: WhiskerRow,
  y: number,
  { left, x, pen, units, nameWidth }: Chart,
): SvgNode[] {
  const limit = limitOf(residual);
  const isFine = residual.state === 'used';
  const colour = isFine ? look.pencil : look.signal;
  const [least, most] = x.domain() as [number, number];
  const [from, to] = [Math.max(least, -limit), Math.min(most, limit)];
  const beyond = residual.residualMm < least ? -1 : residual.residualMm > most ? 1 : 0;
  const at = x(beyond === 0 ? residual.residualMm : beyond < 0 ? least : most);
  const cap = 0.28 * pen.font;
  const whisker = { stroke: look.edge, 'stroke-width': pen.thin };
  const bar = Number.isNaN(limit)
    ? []
    : [
        element('line', { x1: x(from), y1: y, x2: x(to), y2: y, ...whisker }),
        ...[from, to]
          .filter((end) => Math.abs(end) === limit)
          .map((end) => element('line', { x1: x(end), y1: y - cap, x2: x(end), y2: y + cap, ...whisker })),
      ];
  const r = 0.26 * pen.font;
  const dot =
    beyond === 0
      ? element('circle', {
          cx: at,
          cy: y,
          r,
          fill: isFine ? colour : look.sheet,
          stroke: colour,
          'stroke-width': pen.line,
        })
      : element('path', {
          d: `M${formatNumber(at)} ${formatNumber(y)}L${formatNumber(at - beyond * 2.4 * r)} ${formatNumber(y - 1.3 * r)}L${formatNumber(at - beyond * 2.4 * r)} ${formatNumber(y + 1.3 * r)}Z`,
          fill: colour,
        });
  const figure = writeLength(residual.residualMm, units, 0.1);
  return [
    label(name, left + nameWidth, y, { size: pen.font, anchor: 'end', fill: colour, bold: !isFine }),
    ...bar,
    dot,
    label(figure, x.range()[1]! + 0.6 * pen.font + textRoom('-100.0', pen.small), y, {
      size: pen.small,
      anchor: 'end',
      fill: colour,
      bold: !isFine,
    }),
  ];
}

interface Chart {
  readonly left: number;
  readonly nameWidth: number;
  readonly x: ReturnType<typeof scaleLinear<number, number>>;
  readonly pen: Pen;
  readonly units: Units;
}

/**
 * Residuals one under the other: a dot each (measured less solved, mm), and the whisker that it lies within by chance (3.29 of its
 * sigmas). What does not agree is in the signal colour with an open dot; one far outside points over the chart's edge, its figure beside it.
 */
export function drawWhiskers(rows: readonly WhiskerRow[], size: WhiskerSize = {}): SvgNode {
  const { widthPx = 640, fontPx = 12, units = 'mm' } = size;
  const pen = makePen(fontPx);
  const limits = rows.map(({ residual }) => limitOf(residual)).filter((limit) => !Number.isNaN(limit));
  const used = rows.filter(({ residual }) => residual.state === 'used');
  const widest = Math.max(
    leastReachMm,
    ...(used.length > 0 ? used : rows).map(({ residual }) => Math.abs(residual.residualMm)),
    ...limits,
  );
  const reach = reachOverLimit * widest;
  const nameWidth = Math.max(0, ...rows.map(({ name }) => textRoom(name, fontPx)));
  const left = 0.3 * fontPx;
  const right = widthPx - 1.2 * fontPx - textRoom('-100.0', pen.small);
  const x = scaleLinear([-reach, reach], [left + nameWidth + 0.9 * fontPx, right]);
  const rowHigh = 1.45 * fontPx;
  const top = 0.4 * fontPx;
  const bottom = top + rows.length * rowHigh;
  const heightPx = bottom + 2.8 * fontPx;
  const room = x.range()[1]! - x.range()[0]!;
  const ticks = x.ticks(Math.max(2, Math.min(9, Math.floor(room / (5 * fontPx)))));
  const chart: Chart = { left, nameWidth, x, pen, units };
  return element(
    'svg',
    { viewBox: `0 0 ${formatNumber(widthPx)} ${formatNumber(heightPx)}`, width: widthPx, height: heightPx },
    element('rect', { x: 0, y: 0, width: widthPx, height: heightPx, fill: look.sheet }),
    ...ticks.flatMap((tick) => [
      element('line', {
        x1: x(tick),
        y1: top,
        x2: x(tick),
        y2: bottom,
        stroke: tick === 0 ? look.graphite : look.ruled,
        'stroke-width': tick === 0 ? pen.thin : pen.hair,
      }),
      label(writeLength(tick, units, 0.1), x(tick), bottom + 0.8 * fontPx, {
        size: pen.small,
        anchor: 'middle',
        fill: look.graphite,
      }),
    ]),
    ...rows.flatMap((row, k) => drawRow(row, top + (k + 0.5) * rowHigh, chart)),
    label(
      `${units === 'inch' ? 'in' : 'mm'}, measured less solved; bar = by chance`,
      right,
      bottom + 2 * fontPx,
      { size: pen.small, anchor: 'end', fill: look.graphite },
    ),
  );
}
