import { line as newLine, scaleLinear } from 'd3';
import type { HackOption } from '../core/liningPlan.ts';
import { writeLength, type Units } from './length.ts';
import { look, makePen } from './look.ts';
import { label } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';

/** What hacking off more and more spots gives, and which of it is chosen. */
export interface TradeOff {
  readonly options: readonly HackOption[];
  readonly of: 'bed' | 'powder';
  /** Index of the option that is chosen; null = none of them. */
  readonly chosen: number | null;
  readonly units: Units;
}

export interface TradeOffSize {
  readonly widthPx?: number;
  readonly heightPx?: number;
  readonly fontPx?: number;
}

/** Where the chart's plot lies (px), and its scale across. */
function placeChart(count: number, { widthPx = 640, heightPx = 250, fontPx = 12 }: TradeOffSize) {
  const plot = {
    left: 3.4 * fontPx,
    right: widthPx - 1.5 * fontPx,
    top: 3.2 * fontPx,
    bottom: heightPx - 3.4 * fontPx,
  };
  // half a step free at either side, so that the first and the last can be hit
  const x = scaleLinear([-0.5, count - 0.5], [plot.left, plot.right]);
  return { plot, x, widthPx, heightPx, fontPx };
}

/**
 * The option nearest to a place across the chart (px), to pick it by a tap.
 * @example nearestOption(0, 5, { widthPx: 600 }) // 0
 * @example nearestOption(599, 5, { widthPx: 600 }) // 4
 */
export function nearestOption(x: number, count: number, size: TradeOffSize): number {
  const { x: scale } = placeChart(count, size);
  return Math.min(count - 1, Math.max(0, Math.round(scale.invert(x))));
}

/**
 * Chart of the trade-off between hacking off and bed: spots hacked off across, mean bed or powder up from zero, so that the
 * saving shows in its true share; the chosen option filled, one that was not proven best as a square.
 */
export function drawTradeOff({ options, of, chosen, units }: TradeOff, size: TradeOffSize = {}): SvgNode {
  const { plot, x, widthPx, heightPx, fontPx } = placeChart(options.length, size);
  const pen = makePen(fontPx);
  const values = options.map((option) => (of === 'bed' ? option.meanBedMm : option.powderKg));
  const write = (value: number) =>
    of === 'bed' ? writeLength(value, units, 0.1) : String(Math.round(value));
  const tick = (value: number) => (of === 'bed' ? writeLength(value, units, 0.5) : String(value));
  const y = scaleLinear([0, Math.max(1, ...values)], [plot.bottom, plot.top]).nice(5);
  const at = values.map((value, k) => [x(k), y(value)] as const);
  const grid = { stroke: look.ruled, 'stroke-width': pen.hair };
  const word = { size: pen.small, fill: look.graphite } as const;
  const trace = newLine<number>()
    .x((k) => Number(formatNumber(at[k]![0])))
    .y((k) => Number(formatNumber(at[k]![1])));
  const unit = of === 'powder' ? 'kg' : units === 'inch' ? 'inches' : 'mm';
  const mark = (k: number) => {
    const [cx, cy] = at[k]!;
    const isChosen = k === chosen;
    const r = (isChosen ? 0.48 : 0.34) * fontPx;
    const paint = {
      fill: isChosen ? look.pencil : look.sheet,
      stroke: look.pencil,
      'stroke-width': pen.line,
    };
    return options[k]!.proven
      ? element('circle', { cx, cy, r, ...paint })
      : element('rect', { x: cx - r, y: cy - r, width: 2 * r, height: 2 * r, ...paint });
  };
  const [foot] = chosen === null ? [] : at.slice(chosen, chosen + 1);
  return element(
    'svg',
    { viewBox: `0 0 ${formatNumber(widthPx)} ${formatNumber(heightPx)}`, width: widthPx, height: heightPx },
    element('rect', { x: 0, y: 0, width: widthPx, height: heightPx, fill: look.sheet }),
    ...y
      .ticks(4)
      .flatMap((value) => [
        element('line', { x1: plot.left, y1: y(value), x2: plot.right, y2: y(value), ...grid }),
        label(tick(value), plot.left - 0.5 * fontPx, y(value), { ...word, anchor: 'end' }),
      ]),
    ...(foot
      ? [
          element('line', {
            x1: foot[0],
            y1: foot[1],
            x2: foot[0],
            y2: plot.bottom,
            stroke: look.pencil,
            'stroke-width': pen.thin,
          }),
        ]
      : []),
    element('path', {
      d: trace([...at.keys()]) ?? '',
      fill: 'none',
      stroke: look.graphite,
      'stroke-width': pen.line,
      'stroke-dasharray': `${formatNumber(pen.line)} ${formatNumber(2.5 * pen.line)}`,
    }),
    ...[...at.keys()].map(mark),
    ...at.map(([px, py], k) =>
      label(write(values[k]!), px, py - 1.15 * fontPx, {
        size: fontPx,
        anchor: 'middle',
        bold: k === chosen,
        fill: look.pencil,
      }),
    ),
    ...at.map(([px], k) =>
      label(String(options[k]!.spots.length), px, plot.bottom + 1 * fontPx, {
        size: fontPx,
        anchor: 'middle',
        bold: k === chosen,
        fill: k === chosen ? look.pencil : look.graphite,
      }),
    ),
    label(of === 'bed' ? `mean bed, ${unit}` : `powder, ${unit}`, 0.8 * fontPx, 1 * fontPx, word),
    label('spots hacked off', (plot.left + plot.right) / 2, plot.bottom + 2.4 * fontPx, {
      ...word,
      anchor: 'middle',
    }),
  );
}
