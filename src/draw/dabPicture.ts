import { interpolateLab, rgb } from 'd3';
import type { Dab, PackingStrip } from '../core/liningPlan.ts';
import type { Board, LiningPlan } from '../core/results.ts';
import type { Survey, WallRect } from '../core/survey.ts';
import { drawShape, hatchRect, measureShape } from './boardShape.ts';
import { drawMeasures, roomBeside, roomUnder, mergeMeasures, type Measure } from './boardMeasures.ts';
import { drawBoards } from './planBoards.ts';
import { placeWall, type WallFrame } from './frame.ts';
import { writeLength, type Units } from './length.ts';
import { look, makePen, type Pen } from './look.ts';
import { areaAround, Room, type TextPlace } from './room.ts';
import { label, textRoom } from './text.ts';
import { element, type SvgNode } from './tree.ts';
import { areaOf, drawBoxes, drawOpenings, drawRect, drawWallEdge } from './wallParts.ts';

export interface DabInput {
  readonly survey: Survey;
  readonly plan: Pick<LiningPlan, 'boards' | 'screws' | 'dabs' | 'packing'>;
}

export interface DabSize {
  readonly widthPx?: number;
  readonly highPx?: number;
  readonly fontPx?: number;
}

/** Where a rectangle of the wall stands in the frame of a board, or of the wall itself (its own corner at 0, 0). */
const shift = <Rect extends WallRect>(rect: Rect, along: number, up: number): Rect => ({
  ...rect,
  along: rect.along - along,
  up: rect.up - up,
});

/** The tone of adhesive so deep (mm): from the least bed to the deepest with packing. */
export function toneOfDepth(depthMm: number, { min, packedMax }: Survey['lining']['bed']): string {
  const share = packedMax > min ? Math.min(Math.max((depthMm - min) / (packedMax - min), 0), 1) : 0;
  return rgb(interpolateLab(look.ruled, look.washDeep)(share)).formatHex();
}

function drawDab(dab: Dab, frame: WallFrame, bed: Survey['lining']['bed'], pen: Pen): SvgNode {
  const round = dab.kind === 'dab' ? 0.35 * Math.min(dab.width, dab.height) * frame.perMm : 0;
  const tone = toneOfDepth(dab.depthMm, bed);
  return drawRect(dab, frame, { fill: tone, stroke: look.graphite, 'stroke-width': pen.hair, rx: round });
}

/** A packing strip: a hatched frame in the signal tone, for it goes on first. */
function drawStrip(strip: PackingStrip, frame: WallFrame, pen: Pen): SvgNode {
  return element(
    'g',
    {},
    drawRect(strip, frame, { fill: look.signalWash, stroke: look.signal, 'stroke-width': pen.line }),
    hatchRect(strip, frame, pen),
  );
}

/** A gauge screw among the dabs: a small upright cross. */
function drawCross(x: number, y: number, pen: Pen): SvgNode {
  const half = 0.35 * pen.font;
  return element(
    'g',
    { stroke: look.pencil, 'stroke-width': pen.line },
    element('line', { x1: x - half, y1: y, x2: x + half, y2: y }),
    element('line', { x1: x, y1: y - half, x2: x, y2: y + half }),
  );
}

/** Adhesive, packing under it, and gauge screws of one board or of all, in a frame whose lower left corner is (along, up). */
function drawFixing({ survey, plan }: DabInput, board: Board | null, frame: WallFrame, pen: Pen): SvgNode {
  const [along, up] = board ? [board.along, board.up] : [0, 0];
  const isHere = (each: { readonly board: string }) => board === null || each.board === board.id;
  return element(
    'g',
    {},
    ...plan.packing.strips.filter(isHere).map((strip) => drawStrip(shift(strip, along, up), frame, pen)),
    ...plan.dabs.filter(isHere).map((dab) => drawDab(shift(dab, along, up), frame, survey.lining.bed, pen)),
    ...plan.screws
      .filter(isHere)
      .map((screw) => drawCross(frame.x(screw.along - along), frame.y(screw.up - up), pen)),
  );
}

/** The depth of each dab in its middle, where it fits. */
function writeDepths(dabs: readonly Dab[], frame: WallFrame, units: Units, pen: Pen, room: Room): SvgNode {
  return element(
    'g',
    {},
    ...dabs.flatMap((dab) => {
      const text = writeLength(dab.depthMm, units, 1);
      const area = areaOf(dab, frame);
      const wide = textRoom(text, pen.small);
      const turned = wide > area.right - area.left;
      const [across, down] = turned ? [1.1 * pen.small, wide] : [wide, 1.1 * pen.small];
      if (across > 1.3 * (area.right - area.left) || down > area.bottom - area.top) return [];
      const places = [0.5, 0.3, 0.7, 0.12, 0.88].flatMap((above): TextPlace[] =>
        [0.5, 0.25, 0.75].map((right) => {
          const x = area.left + right * (area.right - area.left);
          const y = area.bottom - above * (area.bottom - area.top);
          return { x, y, area: areaAround(x, y, across, down) };
        }),
      );
      const place = room.takeFirst(places);
      const style = { size: pen.small, anchor: 'middle', fill: look.pencil, turned } as const;
      return place ? [label(text, place.x, place.y, style)] : [];
    }),
  );
}

/** The whole wall seen from the room with every dab, strip, packing strip and gauge screw to size. */
export function drawWallDabs(input: DabInput, size: DabSize = {}): SvgNode {
  const { widthPx = 900, highPx = 700, fontPx = 12 } = size;
  const { wall, units } = input.survey;
  const { boards } = input.plan;
  const pen = makePen(fontPx);
  const perMm = Math.min((widthPx - 2 * fontPx) / wall.width, highPx / wall.height);
  const spare = widthPx - 2 * fontPx - wall.width * perMm;
  const frame = placeWall(wall, fontPx + spare / 2, 2 * fontPx, perMm);
  const heightPx = Math.ceil(frame.bottom + 1.6 * fontPx);
  return element(
    'svg',
    { viewBox: `0 0 ${widthPx} ${heightPx}`, width: widthPx, height: heightPx },
    element('rect', { x: 0, y: 0, width: widthPx, height: heightPx, fill: look.sheet }),
    drawRect({ along: 0, up: 0, ...wall }, frame, { fill: look.wall }),
    drawFixing(input, null, frame, pen),
    drawBoards(boards, frame, pen),
    drawOpenings(wall.openings, frame, units, pen),
    drawBoxes(wall.boxes, frame, pen),
    drawWallEdge(wall, frame, pen),
    ...boards.map((board) =>
      label(board.id, frame.x(board.along + board.width / 2), frame.top - 0.8 * fontPx, {
        size: fontPx,
        anchor: 'middle',
        bold: true,
        fill: look.pencil,
      }),
    ),
  );
}

/** Middles of the dabs of a board, as running measures from its left and its bottom edge. */
export function listDabMeasures(board: Board, dabs: readonly Dab[]) {
  const middles = dabs.filter((dab) => dab.kind === 'dab').map((dab) => shift(dab, board.along, board.up));
  const along = middles.map(({ along: left, width }): Measure => ({ atMm: left + width / 2, reachMm: 0 }));
  const up = middles.map(({ up: bottom, height }): Measure => ({ atMm: bottom + height / 2, reachMm: 0 }));
  return {
    bottom: mergeMeasures([...along, { atMm: board.width, reachMm: 0, whole: true }]),
    left: mergeMeasures([...up, { atMm: board.height, reachMm: 0, whole: true }]),
  };
}

/** One board's part of the wall, seen from the room: dabs and strips to size with the adhesive's depth in each, packing, gauge screws. */
export function drawBoardDabs(input: DabInput, board: Board, size: DabSize = {}): SvgNode {
  const { widthPx = 340, highPx = 560, fontPx = 12 } = size;
  const { survey, plan } = input;
  const { units } = survey;
  const pen = makePen(fontPx);
  const shape = measureShape(board);
  const dabs = plan.dabs.filter((dab) => dab.board === board.id);
  const measures = listDabMeasures(board, dabs);
  const left = roomBeside(measures.left, units, pen);
  const right = 2.5 * fontPx;
  const perMm = Math.min((widthPx - left - right) / board.width, highPx / board.height);
  const spare = widthPx - left - right - board.width * perMm;
  const frame = placeWall(board, left + spare / 2, 1.6 * fontPx, perMm);
  const heightPx = Math.ceil(frame.bottom + roomUnder(measures.bottom, frame, units, pen));
  const { left: west, right: east, top, bottom } = frame;
  const room = new Room({ left: west, right: east, top, bottom });
  for (const screw of plan.screws.filter((each) => each.board === board.id))
    room.take(areaAround(frame.x(screw.along - board.along), frame.y(screw.up - board.up), fontPx, fontPx));
  return element(
    'svg',
    { viewBox: `0 0 ${widthPx} ${heightPx}`, width: widthPx, height: heightPx },
    element('rect', { x: 0, y: 0, width: widthPx, height: heightPx, fill: look.sheet }),
    drawShape(shape, frame, pen),
    drawFixing(input, board, frame, pen),
    drawMeasures(measures.bottom, 'bottom', frame, units, pen),
    drawMeasures(measures.left, 'left', frame, units, pen),
    writeDepths(
      dabs.map((dab) => shift(dab, board.along, board.up)),
      frame,
      units,
      pen,
      room,
    ),
  );
}
