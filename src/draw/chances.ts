import { interpolateLab, rgb } from 'd3';
import { listChances } from '../core/next/doubt.ts';
import { drawBands, tracePath } from './bands.ts';
import { flowBlocks, type Block } from './blocks.ts';
import { placeWall } from './frame.ts';
import { traceLevels } from './isobands.ts';
import { formatLength } from './length.ts';
import { look, makePen, type Pen } from './look.ts';
import { listJoints } from './planBoards.ts';
import type { PlanInput } from './planLegend.ts';
import { openRings } from './rings.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';
import { drawBoxes, drawOpenings, drawRect, drawSides, drawWallEdge } from './wallParts.ts';

/** What of the bed may go wrong. */
export type ChanceOf = 'thin' | 'packing' | 'beyond';

export interface ChancesSize {
  readonly widthPx?: number;
  readonly fontPx?: number;
}

/** Chances that part the bands. */
const levels = [0.05, 0.25, 0.75, 0.95];
const colours = [...levels, 1].map((_, k) =>
  rgb(interpolateLab(look.washShallow, look.washDeep)(k / levels.length)).formatHex(),
);
const mostHighPx = 640;

/** What a band of chance means for the work, from the lowest. */
const bandWords: Readonly<Record<ChanceOf, readonly string[]>> = {
  thin: [
    'under 1 in 20: thick enough',
    'up to 1 in 4: likely thick enough',
    'about even: check with a rule',
    'over 3 in 4: likely too thin',
    'over 19 in 20: too thin, hack off',
  ],
  packing: [
    'under 1 in 20: no packing',
    'up to 1 in 4: likely no packing',
    'about even: have strips at hand',
    'over 3 in 4: likely packing',
    'over 19 in 20: packing',
  ],
  beyond: [
    'under 1 in 20: dabs will do',
    'up to 1 in 4: dabs will likely do',
    'about even: measure before you decide',
    'over 3 in 4: likely too deep',
    'over 19 in 20: too deep for dabs',
  ],
};

/** The chance at every node, NaN where nothing is known, and its title with the depth that is meant. */
function listValues({ survey, surface, plan }: PlanInput, of: ChanceOf) {
  const { units, lining } = survey;
  const chances = listChances(plan.bed, surface.sigma, lining.bed);
  const { min, max, packedMax } = lining.bed;
  const depth = (limit: number) => formatLength(limit, units, 1);
  return {
    thin: { values: chances.thin, title: `Chance of a bed under ${depth(min)}` },
    packing: { values: chances.overMax, title: `Chance of a bed over ${depth(max)}, on packing` },
    beyond: { values: chances.overPacked, title: `Chance of a bed over ${depth(packedMax)}` },
  }[of];
}

/** The bands that occur, in words. */
function listKey(values: Float64Array, title: string, of: ChanceOf, pen: Pen): Block {
  const present = new Set<number>();
  for (const value of values)
    if (!Number.isNaN(value)) present.add(levels.filter((level) => value >= level).length);
  const swatch = (fill: string) => (x: number, y: number, width: number) =>
    element('rect', {
      ...{ x: x - width / 2, y: y - 0.5 * pen.font, width, height: pen.font },
      fill,
      stroke: look.edge,
      'stroke-width': pen.hair,
    });
  return [
    { text: title, bold: true },
    ...bandWords[of].flatMap((text, k) => (present.has(k) ? [{ text, sample: swatch(colours[k]!) }] : [])),
  ];
}

/** What a map of chances shows, in words. @example sayChance('thin') // 'Where the bed may be too thin' */
export function sayChance(of: ChanceOf): string {
  return {
    thin: 'Where the bed may be too thin',
    packing: 'Where packing may be needed',
    beyond: 'Where the wall may be too deep for dabs',
  }[of];
}

/**
 * The wall straight on by the chance that its bed is too thin, needs packing or is too deep for dabs, from the plan's bed
 * and the surface's sigma: bands of wash, darker = likelier, the boards' edges over them, and what each band means.
 */
export function drawChances(input: PlanInput, of: ChanceOf, size: ChancesSize = {}): SvgNode {
  const { widthPx = 900, fontPx = 12 } = size;
  const { survey, surface, plan } = input;
  const { wall, units } = survey;
  const pen = makePen(fontPx);
  const [left, right, top] = [2.9 * fontPx, 1.7 * fontPx, 1.7 * fontPx];
  const perMm = Math.min((widthPx - left - right) / wall.width, mostHighPx / wall.height);
  const frame = placeWall(wall, left, top, perMm);
  const { values, title } = listValues(input, of);
  const sides = { left: 0, right: wall.width, bottom: 0, top: wall.height };
  const { stepMm, nx, ny } = surface;
  const parts = values.every(Number.isNaN) ? [] : traceLevels({ stepMm, nx, ny, values }, levels, sides);
  const lines = parts.flatMap(({ rings }) => openRings(rings, sides));
  const key = flowBlocks(
    [listKey(values, title, of, pen)],
    fontPx,
    frame.bottom + 4.2 * fontPx,
    widthPx - 2 * fontPx,
    1,
    pen,
  );
  const heightPx = frame.bottom + 4.4 * fontPx + key.height;
  const edge = { fill: 'none', stroke: look.pencil, 'stroke-width': pen.hair };
  return element(
    'svg',
    { viewBox: `0 0 ${formatNumber(widthPx)} ${formatNumber(heightPx)}`, width: widthPx, height: heightPx },
    element('rect', { x: 0, y: 0, width: widthPx, height: heightPx, fill: look.sheet }),
    drawRect({ along: 0, up: 0, width: wall.width, height: wall.height }, frame, { fill: look.wall }),
    ...(parts.length > 0 ? [drawBands(parts, colours, sides, frame)] : []),
    ...(lines.length > 0
      ? [
          element('path', {
            d: tracePath(lines, frame, false),
            fill: 'none',
            stroke: look.graphite,
            'stroke-width': pen.hair,
          }),
        ]
      : []),
    ...plan.boards.map((board) => drawRect(board, frame, edge)),
    drawOpenings(wall.openings, frame, units, pen),
    drawBoxes(wall.boxes, frame, pen),
    drawWallEdge(wall, frame, pen),
    drawSides(wall, listJoints(plan.boards, wall.width), frame, units, pen),
    key.node,
  );
}
