import { area as newArea, line as newLine, scaleLinear } from 'd3';
import { sampleNodes, type NodeGrid } from '../core/lining/nodeGrid.ts';
import type { Profile } from '../core/results.ts';
import { writeLength, type Units } from './length.ts';
import { look, makePen } from './look.ts';
import { evenProfile } from './profileLine.ts';
import { label } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';

/** A line's profile less the surface, in even steps along it; NaN where the line was not seen. */
export interface Misfit {
  readonly s: Float64Array;
  readonly outMm: Float64Array;
  /** Sigma of the profile there. */
  readonly sigmaMm: Float64Array;
  readonly rmsMm: number;
}

/** Step to which points are averaged, mm along the line: about what the solve takes as one. */
const stepMm = 20;

/** How a line's profile runs about the solved surface (`surface`: its offsets, filled where there is no wall). */
export function measureMisfit(profile: Profile, surface: NodeGrid): Misfit {
  const even = evenProfile(profile, stepMm);
  const outMm = even.out.map((out, k) => {
    const [along, up] = profile.axis === 'level' ? [even.s[k]!, profile.atMm] : [profile.atMm, even.s[k]!];
    return out - sampleNodes(surface, along, up);
  });
  const known = outMm.filter((each) => !Number.isNaN(each));
  const rmsMm = Math.sqrt(known.reduce((sum, each) => sum + each * each, 0) / known.length);
  return { s: even.s, outMm, sigmaMm: even.sigma, rmsMm };
}

export interface DrawnMisfit {
  readonly profile: Profile;
  readonly misfit: Misfit;
  readonly colour: 'red' | 'green';
  /** Length of the wall along the line. */
  readonly lengthMm: number;
  readonly units: Units;
}

export interface MisfitSize {
  readonly widthPx?: number;
  readonly fontPx?: number;
  /** Offsets (mm) that reach the strip's edges, the same for all lines that are to be compared. */
  readonly reachMm?: number;
  /** So many sigmas of the profile to each side of the surface are shaded. */
  readonly bandSigmas?: number;
}

/** A low strip that shows how a line's profile strays from the solved surface along it; towards the room is up, gaps stay open. */
export function drawMisfit(
  { profile, misfit, colour, lengthMm, units }: DrawnMisfit,
  size: MisfitSize = {},
): SvgNode {
  const { widthPx = 640, fontPx = 12, reachMm = 2, bandSigmas = 0 } = size;
  const pen = makePen(fontPx);
  const figure = { size: pen.small, fill: look.graphite } as const;
  const [left, right] = [3 * fontPx, widthPx - 0.8 * fontPx];
  const [top, bottom] = [2 * fontPx, 6.6 * fontPx];
  const heightPx = 8.2 * fontPx;
  const x = scaleLinear([0, lengthMm], [left, right]);
  const y = scaleLinear([-reachMm, reachMm], [bottom, top]);
  const within = (out: number) => Math.min(Math.max(out, -reachMm), reachMm);
  const trace = newLine<number>()
    .defined((k) => !Number.isNaN(misfit.outMm[k]!))
    .x((k) => Number(formatNumber(x(misfit.s[k]!))))
    .y((k) => Number(formatNumber(y(within(misfit.outMm[k]!)))));
  const [above, below] = [1, -1].map(
    (side) => (k: number) => Number(formatNumber(y(within(side * bandSigmas * misfit.sigmaMm[k]!)))),
  );
  const band = newArea<number>()
    .defined((k) => !Number.isNaN(misfit.sigmaMm[k]!))
    .x((k) => Number(formatNumber(x(misfit.s[k]!))))
    .y0(below!)
    .y1(above!);
  const ticks = x.ticks(Math.max(2, Math.floor((right - left) / (7 * fontPx))));
  const rule = (y0: number, tone: string) =>
    element('line', { x1: left, y1: y0, x2: right, y2: y0, stroke: tone, 'stroke-width': pen.hair });
  const name = `${profile.photo} ${profile.axis} at ${writeLength(profile.atMm, units, 1)}`;
  const rms = Number.isNaN(misfit.rmsMm)
    ? 'not seen'
    : `strays ${writeLength(misfit.rmsMm, units, 0.01)} ${units === 'inch' ? 'in' : 'mm'} (rms)`;
  return element(
    'svg',
    { viewBox: `0 0 ${formatNumber(widthPx)} ${formatNumber(heightPx)}`, width: widthPx, height: heightPx },
    element('rect', { x: 0, y: 0, width: widthPx, height: heightPx, fill: look.sheet }),
    ...(bandSigmas > 0 ? [element('path', { d: band([...misfit.s.keys()]) ?? '', fill: look.ruled })] : []),
    ...[-reachMm, 0, reachMm].flatMap((out) => [
      rule(y(out), out === 0 ? look.graphite : look.ruled),
      label(writeLength(out, units, 0.1), left - 0.5 * fontPx, y(out), { ...figure, anchor: 'end' }),
    ]),
    ...ticks.map((s) =>
      label(writeLength(s, units, 1), x(s), bottom + 0.9 * fontPx, {
        ...figure,
        anchor: s === ticks.at(-1) ? 'end' : 'middle',
      }),
    ),
    element('path', {
      d: trace([...misfit.s.keys()]) ?? '',
      fill: 'none',
      stroke: look[colour],
      'stroke-width': pen.line,
      'stroke-linejoin': 'round',
    }),
    label(name, left, 0.9 * fontPx, { size: fontPx, bold: true, fill: look.pencil }),
    label(rms, right, 0.9 * fontPx, { ...figure, anchor: 'end' }),
  );
}
