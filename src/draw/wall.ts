import { extent } from 'd3';
import type { LiningPlan, Solution } from '../core/results.ts';
import type { Survey } from '../core/survey.ts';
import { chooseBanding, drawBands, tracePath } from './bands.ts';
import { placeWall, type WallFrame } from './frame.ts';
import { traceLevels } from './isobands.ts';
import { formatLength } from './length.ts';
import { labelLevels, type TracedLevels } from './levels.ts';
import { look, makePen, type Pen } from './look.ts';
import { Room } from './room.ts';
import { openRings } from './rings.ts';
import { label, wrapText } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';
import { drawLines, drawReadings, waveScale } from './wallLines.ts';
import {
  areaOf,
  drawBoxes,
  drawOpenings,
  drawRect,
  drawSides,
  drawWallEdge,
  nameBoxes,
} from './wallParts.ts';

/** What is known of the wall so far. */
export interface KnownWall {
  readonly survey: Survey;
  readonly solution?: Solution | null;
  readonly plan?: LiningPlan | null;
}

/** How large the wall is drawn. `strip`: low, above other things, without figures. */
export interface WallSize {
  readonly widthPx?: number;
  readonly strip?: boolean;
  readonly fontPx?: number;
}

/** Greatest height of a strip and of the large drawing, px. */
const mostHighPx = { strip: 120, large: 760 };

interface Layout {
  readonly frame: WallFrame;
  readonly pen: Pen;
  readonly widthPx: number;
  readonly heightPx: number;
}

function layOut(
  { width, height }: Survey['wall'],
  { widthPx = 900, strip = false, fontPx = 12 }: WallSize,
): Layout {
  const pen = makePen(strip ? 0.8 * fontPx : fontPx);
  const [left, right, top, bottom] = strip ? [0.6, 0.6, 0.6, 1] : [2.9, 1.7, 1.7, 6];
  const across = widthPx - (left + right) * pen.font;
  const down = (strip ? mostHighPx.strip : mostHighPx.large) - (top + bottom) * pen.font;
  const perMm = Math.min(across / width, down / height);
  const frame = placeWall({ width, height }, left * pen.font, top * pen.font, perMm);
  return {
    frame,
    pen,
    widthPx: frame.right + right * pen.font,
    heightPx: frame.bottom + bottom * pen.font,
  };
}

/**
 * Where the wall stands in the drawing that `drawWall` makes with the same size, to place a tap on it.
 * @example frameOfWall({ width: 4000, height: 2500, side: 'internal', openings: [], boxes: [] }, {}).along(0) < 0 // true
 */
export function frameOfWall(wall: Survey['wall'], size: WallSize): WallFrame {
  return layOut(wall, size).frame;
}

/** More than this many bands cannot be told apart. */
const mostBands = 9;

/** The surface as bands of how far it stands behind the laser's plane; null when none of it is known. */
function traceSurface({ survey, solution }: KnownWall): TracedLevels | null {
  if (!solution) return null;
  const { stepMm, nx, ny, out } = solution.surface;
  const values = out.map((each) => -each);
  const [least, most] = extent([...values].filter((value) => !Number.isNaN(value)));
  if (least === undefined || most === undefined) return null;
  const banding = chooseBanding(least, most, mostBands, survey.units);
  const wall = { left: 0, right: survey.wall.width, bottom: 0, top: survey.wall.height };
  return { banding, wall, bands: traceLevels({ stepMm, nx, ny, values }, banding.levels, wall) };
}

function drawSurface({ banding, bands, wall }: TracedLevels, { frame, pen }: Layout): SvgNode {
  const lines = bands.flatMap(({ rings }) => openRings(rings, wall));
  return element(
    'g',
    {},
    drawBands(bands, banding.colours, wall, frame),
    element('path', {
      d: tracePath(lines, frame, false),
      fill: 'none',
      stroke: look.graphite,
      'stroke-width': pen.hair,
    }),
  );
}

/**
 * The wall seen straight on with what is known of it: openings, boxes, readings, the laser's lines with their profiles,
 * the solved surface as bands, the boards. Drawn as wide as asked, but not higher than a screen.
 */
export function drawWall(known: KnownWall, size: WallSize = {}): SvgNode {
  const { survey, solution, plan } = known;
  const { wall, units } = survey;
  const layout = layOut(wall, size);
  const { frame, pen, widthPx, heightPx } = layout;
  const large = !(size.strip ?? false);
  const surface = traceSurface(known);
  const hasWaves = large && (solution?.profiles.length ?? 0) > 0;
  const step = surface && formatLength(surface.banding.stepMm, units, 0.5);
  const notes = [
    ...(step === null ? [] : [`bands every ${step} from laser plane, darker = further back`]),
    ...(hasWaves ? [`lines bowed ${waveScale} times`] : []),
  ];
  const boards = plan?.boards ?? [];
  const room = large ? new Room(frame) : null;
  for (const hole of [...wall.openings, ...wall.boxes]) room?.take(areaOf(hole, frame));
  const readings = drawReadings(known, frame, pen, room);
  const boxNames = room ? [nameBoxes(wall.boxes, frame, pen, room)] : [];
  const { lines, names } = drawLines(known, frame, pen, room);
  const levels = room && surface ? [labelLevels(surface, units, frame, pen, room)] : [];
  return element(
    'svg',
    { viewBox: `0 0 ${formatNumber(widthPx)} ${formatNumber(heightPx)}`, width: widthPx, height: heightPx },
    element('rect', { x: 0, y: 0, width: widthPx, height: heightPx, fill: look.sheet }),
    drawRect({ along: 0, up: 0, width: wall.width, height: wall.height }, frame, { fill: look.wall }),
    ...(surface ? [drawSurface(surface, layout)] : []),
    ...boards.map((board) =>
      drawRect(board, frame, { fill: 'none', stroke: look.pencil, 'stroke-width': pen.thin }),
    ),
    ...levels,
    lines,
    drawOpenings(wall.openings, frame, units, pen),
    drawBoxes(wall.boxes, frame, pen),
    ...boxNames,
    readings,
    names,
    drawWallEdge(wall, frame, pen),
    ...(large ? [drawSides(wall, [], frame, units, pen)] : []),
    ...(large
      ? wrapText(notes.join('; '), frame.right - frame.left, pen.small).map((line, k) =>
          label(line, frame.left, frame.bottom + (4.4 + k) * pen.font, {
            size: pen.small,
            fill: look.graphite,
          }),
        )
      : []),
  );
}
