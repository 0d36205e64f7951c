import { extent, line as newLine, scaleLinear, area as newArea } from 'd3';
import type { Profile, Solution } from '../core/results.ts';
import type { Survey } from '../core/survey.ts';
import { writeLength } from './length.ts';
import { look, makePen } from './look.ts';
import { evenProfile, listRuns } from './profileLine.ts';
import { label, textRoom } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';
import { listSuspects } from './wallLines.ts';

/** One profile and what it belongs to. */
export interface DrawnProfile {
  readonly survey: Survey;
  readonly profile: Profile;
  readonly solution?: Solution | null;
}

export interface ProfileSize {
  readonly widthPx?: number;
  readonly heightPx?: number;
  readonly fontPx?: number;
}

/** Step to which points are averaged for drawing, mm along the line. */
const stepMm = 10;
/** Sigmas to each side in the band: about 95 % of a normal spread. */
const bandSigmas = 2;
/** Least height of the chart in mm of the wall, so that a flat wall looks flat. */
const leastRangeMm = 10;

/** Points of the line that the finder doubts, as s along the line: matched to the profile by their place in the picture. */
function listDoubts({ survey, profile }: DrawnProfile): { readonly s: number; readonly out: number }[] {
  const photo = survey.photos.find(({ id }) => id === profile.photo);
  const line = photo?.lines.find(({ id }) => id === profile.line);
  const key = (u: number, v: number) => `${u.toFixed(2)} ${v.toFixed(2)}`;
  const doubted = new Set(
    line?.points.filter(({ state }) => state === 'suspect').map(({ u, v }) => key(u, v)),
  );
  if (doubted.size === 0) return [];
  return [...profile.s.keys()]
    .filter((k) => doubted.has(key(profile.u[k]!, profile.v[k]!)))
    .map((k) => ({ s: profile.s[k]!, out: profile.out[k]! }));
}

/**
 * Chart of one profile: how far the wall stands from the laser's plane along the line, with its uncertainty (two sigmas) as
 * a band, gaps left open, doubted points marked. The room is above, the wall below the line; figures in the survey's units.
 */
export function drawProfile(drawn: DrawnProfile, size: ProfileSize = {}): SvgNode {
  const { survey, profile, solution } = drawn;
  const { widthPx = 900, heightPx = 280, fontPx = 12 } = size;
  const pen = makePen(fontPx);
  const { units, wall } = survey;
  const length = profile.axis === 'level' ? wall.width : wall.height;
  const even = evenProfile(profile, stepMm);
  const runs = listRuns(even.out);
  const [least = -leastRangeMm, most = 0] = extent(
    [...even.out]
      .flatMap((out, k) => [out - bandSigmas * even.sigma[k]!, out + bandSigmas * even.sigma[k]!])
      .filter((v) => !Number.isNaN(v)),
  );
  const spare = Math.max(0, leastRangeMm - (most - least)) / 2;
  const chart = {
    left: 3.6 * fontPx,
    right: widthPx - 1.2 * fontPx,
    top: 2 * fontPx,
    bottom: heightPx - 3.2 * fontPx,
  };
  const x = scaleLinear([0, length], [chart.left, chart.right]);
  const y = scaleLinear([least - spare, most + spare], [chart.bottom, chart.top]).nice(5);
  const at = (k: number) => Number(formatNumber(x(even.s[k]!)));
  const to = (out: number) => Number(formatNumber(y(out)));
  const suspects = listSuspects(solution);
  const isSuspect = [profile.line, `${profile.photo}/${profile.line}`].some((each) =>
    suspects.has(`line ${each}`),
  );
  const colour = survey.photos
    .find(({ id }) => id === profile.photo)
    ?.lines.find(({ id }) => id === profile.line)?.colour;
  const stroke = isSuspect ? look.signal : look[colour ?? 'green'];
  const steps = [...even.s.keys()];
  const isKnown = (k: number) => !Number.isNaN(even.out[k]!);
  const band = newArea<number>()
    .defined(isKnown)
    .x(at)
    .y0((k) => to(even.out[k]! - bandSigmas * even.sigma[k]!))
    .y1((k) => to(even.out[k]! + bandSigmas * even.sigma[k]!));
  const trace = newLine<number>()
    .defined(isKnown)
    .x(at)
    .y((k) => to(even.out[k]!));
  const figure = { size: pen.small, fill: look.graphite } as const;
  const alongTicks = x.ticks(Math.max(2, Math.floor((chart.right - chart.left) / (7 * fontPx))));
  const grid = { stroke: look.ruled, 'stroke-width': pen.hair };
  const last = alongTicks.at(-1);
  const unit = units === 'inch' ? 'in' : 'mm';
  const ends = profile.axis === 'level' ? (['left', 'right'] as const) : (['floor', 'ceiling'] as const);
  const gapLabel = 'not seen';
  const gaps = runs
    .slice(1)
    .map((run, k) => [even.s[runs[k]![1]]! + stepMm / 2, even.s[run[0]]! - stepMm / 2] as const);
  return element(
    'svg',
    { viewBox: `0 0 ${formatNumber(widthPx)} ${formatNumber(heightPx)}`, width: widthPx, height: heightPx },
    element('rect', { x: 0, y: 0, width: widthPx, height: heightPx, fill: look.sheet }),
    ...y
      .ticks(5)
      .flatMap((out) => [
        element('line', { x1: chart.left, y1: y(out), x2: chart.right, y2: y(out), ...grid }),
        label(writeLength(-out, units, 1), chart.left - 0.5 * fontPx, y(out), { ...figure, anchor: 'end' }),
      ]),
    ...alongTicks.flatMap((s) => [
      element('line', { x1: x(s), y1: chart.top, x2: x(s), y2: chart.bottom, ...grid }),
      label(writeLength(s, units, 1), x(s), chart.bottom + 0.9 * fontPx, {
        ...figure,
        anchor: s === last ? 'end' : 'middle',
      }),
    ]),
    ...gaps.flatMap(([from, until]) => {
      const wide = x(until) - x(from);
      const middle = (x(from) + x(until)) / 2;
      return [
        element('rect', {
          x: x(from),
          y: chart.top,
          width: wide,
          height: chart.bottom - chart.top,
          fill: look.ruled,
          'fill-opacity': 0.45,
        }),
        ...(wide > textRoom(gapLabel, pen.small) + fontPx
          ? [label(gapLabel, middle, (chart.top + chart.bottom) / 2, { ...figure, anchor: 'middle' })]
          : []),
      ];
    }),
    element('path', { d: band(steps) ?? '', fill: stroke, 'fill-opacity': 0.18, stroke: 'none' }),
    element('path', {
      d: trace(steps) ?? '',
      fill: 'none',
      stroke,
      'stroke-width': pen.line,
      'stroke-linejoin': 'round',
    }),
    ...listDoubts(drawn).map(({ s, out }) =>
      element('circle', {
        cx: x(s),
        cy: y(out),
        r: 0.22 * fontPx,
        fill: 'none',
        stroke: look.signal,
        'stroke-width': pen.thin,
      }),
    ),
    label(`${unit} from laser plane; up is towards the room`, chart.left, 0.9 * fontPx, figure),
    label(ends[0], chart.left, chart.bottom + 2.2 * fontPx, figure),
    label(ends[1], chart.right, chart.bottom + 2.2 * fontPx, { ...figure, anchor: 'end' }),
    label(
      `${profile.photo} ${profile.axis} at ${writeLength(profile.atMm, units, 1)}${isSuspect ? ', does not agree' : ''}`,
      (chart.left + chart.right) / 2,
      chart.bottom + 2.2 * fontPx,
      { size: fontPx, bold: true, anchor: 'middle', fill: isSuspect ? look.signal : look.pencil },
    ),
  );
}
