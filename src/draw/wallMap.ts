import { interpolateLab, rgb } from 'd3';
import { listChances } from '../core/next/doubt.ts';
import type { LiningPlan, NextAdvice, Solution } from '../core/results.ts';
import type { Survey } from '../core/survey.ts';
import { chooseBanding, drawBands, tracePath } from './bands.ts';
import { flowBlocks, type Block } from './blocks.ts';
import { placeWall, type WallFrame } from './frame.ts';
import { traceLevels } from './isobands.ts';
import { formatLength, writeLength } from './length.ts';
import { look, makePen, type Pen } from './look.ts';
import { drawNextLine, drawNextPlace, drawTarget } from './nextMark.ts';
import { openRings } from './rings.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';
import { drawLines, drawReadings } from './wallLines.ts';
import { drawBoxes, drawOpenings, drawRect, drawSides, drawWallEdge } from './wallParts.ts';

/** What of the wall's bed decision a map shows: how well the surface is known, or a chance. */
export type MapOf = 'sigma' | 'thin' | 'packing' | 'beyond';

export interface MappedWall {
  readonly survey: Survey;
  readonly solution: Solution;
  /** null = the lining could not be planned: no chances. */
  readonly plan: LiningPlan | null;
  readonly next: NextAdvice | null;
}

export interface MapSize {
  readonly widthPx?: number;
  readonly fontPx?: number;
}

const mostHighPx = 760;
const mostBands = 7;
/** Chances that part the bands: what is as good as settled either way, and what is not. */
const chanceLevels = [0.05, 0.2, 0.5, 0.8, 0.95];

/** Values at the nodes, the levels that part them, each band's colour and name, and what they are. */
interface Banded {
  readonly values: Float64Array;
  readonly levels: readonly number[];
  readonly colours: readonly string[];
  readonly names: readonly string[];
  readonly title: string;
}

function bandSigma({ survey, solution }: MappedWall): Banded {
  const { sigma } = solution.surface;
  const { units } = survey;
  const known = sigma.filter((each) => !Number.isNaN(each));
  const least = known.reduce((low, each) => Math.min(low, each), Infinity);
  const most = known.reduce((high, each) => Math.max(high, each), 0);
  const { levels, colours } = chooseBanding(Math.min(least, most), most, mostBands, units);
  const write = (level: number) => writeLength(level, units, 0.1);
  return {
    values: sigma,
    levels,
    colours,
    names: nameBands(levels, (level) => `\u00b1${write(level)}`),
    title: `Known to (one sigma), ${units === 'inch' ? 'inches' : 'mm'}`,
  };
}

function bandChance({ survey, solution, plan }: MappedWall, of: Exclude<MapOf, 'sigma'>): Banded {
  const { units, lining } = survey;
  const { sigma } = solution.surface;
  const chances = listChances(plan?.bed ?? sigma.map(() => NaN), sigma, lining.bed);
  const depth = (limit: number) => formatLength(limit, units, 1);
  const { min, max, packedMax } = lining.bed;
  const { values, title } = {
    thin: { values: chances.thin, title: `Chance that the bed is too thin, under ${depth(min)}` },
    packing: { values: chances.overMax, title: `Chance that the bed needs packing, over ${depth(max)}` },
    beyond: {
      values: chances.overPacked,
      title: `Chance that the bed is too deep for dabs, over ${depth(packedMax)}`,
    },
  }[of];
  const wash = interpolateLab(look.washShallow, look.washDeep);
  return {
    values,
    levels: chanceLevels,
    colours: [...chanceLevels, 1].map((_, k) => rgb(wash(k / chanceLevels.length)).formatHex()),
    names: nameBands(chanceLevels, (level) => `${Math.round(100 * level)} %`),
    title,
  };
}

/** What each band is called, from the lowest. */
function nameBands(levels: readonly number[], write: (level: number) => string): string[] {
  if (levels.length === 0) return ['all'];
  return [...levels, Infinity].map((level, k) => {
    if (k === 0) return `under ${write(level)}`;
    return k === levels.length
      ? `over ${write(levels[k - 1]!)}`
      : `${write(levels[k - 1]!)} to ${write(level)}`;
  });
}

/** The bands that are on the wall, each with its colour and name; and what the signal colour stands for. */
function listKey(
  { values, levels, colours, names, title }: Banded,
  next: NextAdvice | null,
  pen: Pen,
): Block[] {
  const present = new Set<number>();
  for (const value of values)
    if (!Number.isNaN(value)) present.add(levels.filter((level) => value >= level).length);
  const swatch = (fill: string) => (x: number, y: number, width: number) =>
    element('rect', {
      x: x - width / 2,
      y: y - 0.5 * pen.font,
      width,
      height: pen.font,
      fill,
      stroke: look.edge,
      'stroke-width': pen.hair,
    });
  const bands: Block = [
    { text: title, bold: true },
    ...names.flatMap((text, k) => (present.has(k) ? [{ text, sample: swatch(colours[k]!) }] : [])),
  ];
  const best = next?.best;
  if (!best) return [bands];
  const words = {
    reading: 'rule reading to take next',
    level: 'level line to throw next, from the floor',
    plumb: 'plumb line to throw next, from the left end',
  }[best.kind];
  const sample = (x: number, y: number, width: number) =>
    best.kind === 'reading'
      ? drawTarget(x, y, makePen(0.6 * pen.font))
      : element('line', {
          x1: x - width / 2,
          y1: y,
          x2: x + width / 2,
          y2: y,
          stroke: look.signal,
          'stroke-width': 1.3 * pen.heavy,
        });
  return [
    bands,
    [
      { text: 'Measure next', bold: true },
      { text: words, needsUser: true, sample },
    ],
  ];
}

function drawMap(
  { values, levels, colours }: Banded,
  { wall }: Survey,
  solution: Solution,
  frame: WallFrame,
  pen: Pen,
): SvgNode[] {
  if (values.every(Number.isNaN)) return [];
  const { stepMm, nx, ny } = solution.surface;
  const sides = { left: 0, right: wall.width, bottom: 0, top: wall.height };
  const parts = traceLevels({ stepMm, nx, ny, values }, levels, sides);
  const lines = parts.flatMap(({ rings }) => openRings(rings, sides));
  return [
    drawBands(parts, colours, sides, frame),
    element('path', {
      d: tracePath(lines, frame, false),
      fill: 'none',
      stroke: look.graphite,
      'stroke-width': pen.hair,
    }),
  ];
}

/** What a map shows, in words: for those who cannot see it, and as its heading. @example sayMap('thin') // 'The wall by its chance of a bed too thin' */
export function sayMap(of: MapOf): string {
  const words = {
    sigma: 'how well it is known',
    thin: 'its chance of a bed too thin',
    packing: 'its chance of a bed that needs packing',
    beyond: 'its chance of a bed too deep',
  } as const;
  return `The wall by ${words[of]}`;
}

/**
 * The wall seen straight on by how well it is known or by a chance of the bed decision, darker = less well or likelier, with what was
 * measured and, in the signal colour, what to measure next; its key below.
 */
export function drawWallMap(mapped: MappedWall, of: MapOf, size: MapSize = {}): SvgNode {
  const { widthPx = 900, fontPx = 12 } = size;
  const { survey, solution, next } = mapped;
  const { wall, units } = survey;
  const pen = makePen(fontPx);
  const [left, right, top] = [2.9 * fontPx, 1.7 * fontPx, 1.7 * fontPx];
  const perMm = Math.min((widthPx - left - right) / wall.width, mostHighPx / wall.height);
  const frame = placeWall(wall, left, top, perMm);
  const banded = of === 'sigma' ? bandSigma(mapped) : bandChance(mapped, of);
  const room = widthPx - 2 * fontPx;
  const blocks = listKey(banded, next, pen);
  const columns = blocks.length > 1 && room > 44 * fontPx ? 2 : 1;
  const key = flowBlocks(blocks, fontPx, frame.bottom + 4.2 * fontPx, room, columns, pen);
  const heightPx = frame.bottom + 4.4 * fontPx + key.height;
  return element(
    'svg',
    { viewBox: `0 0 ${formatNumber(widthPx)} ${formatNumber(heightPx)}`, width: widthPx, height: heightPx },
    element('rect', { x: 0, y: 0, width: widthPx, height: heightPx, fill: look.sheet }),
    drawRect({ along: 0, up: 0, width: wall.width, height: wall.height }, frame, { fill: look.wall }),
    ...drawMap(banded, survey, solution, frame, pen),
    drawLines({ survey, solution }, frame, pen, null).lines,
    ...(next?.best ? drawNextLine(next.best, frame, pen) : []),
    drawOpenings(wall.openings, frame, units, pen),
    drawBoxes(wall.boxes, frame, pen),
    drawReadings({ survey, solution }, frame, pen, null),
    drawWallEdge(wall, frame, pen),
    drawSides(wall, [], frame, units, pen),
    ...(next?.best ? drawNextPlace(next.best, frame, units, pen) : []),
    key.node,
  );
}
