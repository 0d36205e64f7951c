import type { WallFrame } from './frame.ts';
import { formatLength, MM_PER_INCH, type Units } from './length.ts';
import { labelLevels } from './levels.ts';
import { look, type Pen } from './look.ts';
import { drawBoards, listJoints, nameBoards } from './planBoards.ts';
import type { PlanInput } from './planLegend.ts';
import { drawHighPoints, drawScrews } from './planScrews.ts';
import { drawHackedSpots, drawPackingStrips } from './planWork.ts';
import { drawBed, labelZones, type BedAreas } from './planZones.ts';
import { Room, sidesOfArea } from './room.ts';
import { label } from './text.ts';
import { element, type SvgNode } from './tree.ts';
import {
  areaOf,
  drawBoxes,
  drawOpenings,
  drawRect,
  drawSides,
  drawWallEdge,
  nameBoxes,
} from './wallParts.ts';

/** Room (in letters' sizes) that sides, dimensions and words need round the wall. */
export const mapMargins = { left: 2.9, right: 1.7, top: 1.7, bottom: 5.3 };

/** A bar of 1000 mm (40 inches) under the wall, in fifths; a tenth of that under a wall shorter than the bar. */
function drawScaleBar(widthMm: number, frame: WallFrame, units: Units, pen: Pen): SvgNode {
  const whole = units === 'inch' ? 40 * MM_PER_INCH : 1000;
  const length = widthMm < whole ? whole / 10 : whole;
  const part = (length / 5) * frame.perMm;
  const y = frame.bottom + 4.6 * pen.font;
  const high = 0.5 * pen.font;
  return element(
    'g',
    { stroke: look.pencil, 'stroke-width': pen.hair },
    ...[0, 1, 2, 3, 4].map((k) =>
      element('rect', {
        x: frame.left + k * part,
        y: y - high / 2,
        width: part,
        height: high,
        fill: k % 2 === 0 ? look.pencil : look.sheet,
      }),
    ),
    element(
      'g',
      { stroke: 'none' },
      label(formatLength(length, units, 1), frame.left + 5 * part + 0.7 * pen.font, y, {
        size: pen.font,
        fill: look.graphite,
      }),
    ),
  );
}

export interface DrawnMap {
  readonly node: SvgNode;
  /** Screws whose figure found no room. */
  readonly unwritten: readonly string[];
}

/** The wall with its bed, boards and screws. Texts take their room by need: screws, high point, spots to hack off, boards, zones, depths. */
export function drawPlanMap(
  { survey, plan }: PlanInput,
  areas: BedAreas,
  frame: WallFrame,
  pen: Pen,
): DrawnMap {
  const { wall, units } = survey;
  const room = new Room(frame);
  for (const opening of wall.openings) room.take(areaOf(opening, frame));
  for (const box of wall.boxes) room.take(areaOf(box, frame));
  const screws = drawScrews(plan, frame, units, pen, room);
  const highPoints = drawHighPoints(plan, frame, units, pen, room);
  const hacked = drawHackedSpots(plan.hacked, frame, units, pen, room);
  const boardNames = nameBoards(plan, frame, units, pen, room);
  const boxNames = nameBoxes(wall.boxes, frame, pen, room);
  const zoneNames = labelZones(areas, frame, pen, room);
  for (const board of plan.boards) for (const side of sidesOfArea(areaOf(board, frame))) room.take(side);
  for (const strip of plan.packing.strips) room.take(areaOf(strip, frame));
  const levels = labelLevels(areas, units, frame, pen, room);
  const node = element(
    'g',
    {},
    drawRect({ along: 0, up: 0, width: wall.width, height: wall.height }, frame, { fill: look.wall }),
    drawBed(areas, frame, pen),
    levels,
    ...(plan.packing.strips.length > 0 ? [drawPackingStrips(plan.packing.strips, frame, pen)] : []),
    drawBoards(plan.boards, frame, pen),
    drawOpenings(wall.openings, frame, units, pen),
    drawBoxes(wall.boxes, frame, pen),
    boxNames,
    zoneNames,
    boardNames,
    ...(plan.hacked.length > 0 ? [hacked] : []),
    screws.node,
    highPoints,
    drawWallEdge(wall, frame, pen),
    drawSides(wall, listJoints(plan.boards, wall.width), frame, units, pen),
    drawScaleBar(wall.width, frame, units, pen),
  );
  return { node, unwritten: screws.unwritten };
}
