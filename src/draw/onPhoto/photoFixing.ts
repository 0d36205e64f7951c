import { sidesOf } from '../../core/lining/rects.ts';
import type { Dab, PackingStrip } from '../../core/liningPlan.ts';
import type { Survey, WallRect, WallSpot } from '../../core/survey.ts';
import { frameRing } from '../bands.ts';
import type { Pen } from '../look.ts';
import type { Point } from '../rings.ts';
import type { SvgNode } from '../tree.ts';
import { ink, inkLines, type Stroke } from './photoInk.ts';
import { tracePhoto, type PhotoLine } from './photoLines.ts';
import type { PhotoSight } from './photoSight.ts';

const seeRect = (sight: PhotoSight, rect: WallRect): PhotoLine[] =>
  tracePhoto(sight, sight.onWall, frameRing(sidesOf(rect)), true);

/** Shapes on the masonry; a fill only where the whole of one is in the picture. */
function inkShapes(shapes: readonly PhotoLine[][], stroke: Stroke): SvgNode[] {
  const isWhole = (pieces: PhotoLine[]) => pieces.length === 1 && isClosed(pieces[0]!);
  const { fill, ...bare } = stroke;
  return [
    ...inkLines(shapes.filter(isWhole).flat(), fill ? { ...bare, fill } : bare),
    ...inkLines(shapes.filter((pieces) => !isWhole(pieces)).flat(), bare),
  ];
}

function isClosed(line: PhotoLine): boolean {
  const [first, last] = [line[0]!, line.at(-1)!];
  return Math.hypot(first[0] - last[0], first[1] - last[1]) < 1e-6;
}

/** The strips of board that are bonded to the masonry before the boards. */
export function drawPackingOnPhoto(sight: PhotoSight, strips: readonly PackingStrip[], pen: Pen): SvgNode[] {
  const shapes = strips.map((strip) => seeRect(sight, strip));
  return inkShapes(shapes, { colour: ink.packing, width: pen.line, fill: ink.packing, fillOpacity: 0.18 });
}

/** Dabs and strips of adhesive as they will lie pressed. */
export function drawDabsOnPhoto(sight: PhotoSight, dabs: readonly Dab[], pen: Pen): SvgNode[] {
  const shapes = dabs.map((dab) => seeRect(sight, dab));
  return inkShapes(shapes, { colour: ink.dab, width: pen.thin, fill: ink.dab, fillOpacity: 0.14 });
}

/** What the eye can check the drawing by: the wall's own edges, its openings and its boxes, fine and dashed. */
export function drawWallOnPhoto(sight: PhotoSight, { wall }: Survey, pen: Pen): SvgNode[] {
  const { width, height, openings, boxes, floor, ceiling } = wall;
  const level = (spots: readonly WallSpot[] | undefined, up: number): Point[] => {
    const between = (spots ?? []).map((spot): Point => [spot.along, spot.up]);
    const [first, last] = [between[0]?.[1] ?? up, between.at(-1)?.[1] ?? up];
    return [[0, first], ...between.filter(([along]) => along > 0 && along < width), [width, last]];
  };
  const [bottom, top] = [level(floor, 0), level(ceiling, height)];
  const edges = tracePhoto(sight, sight.onWall, [...bottom, ...top.reverse()], true);
  const rects = [...openings, ...boxes].flatMap((rect) => seeRect(sight, rect));
  return inkLines([...edges, ...rects], {
    colour: ink.wall,
    width: pen.thin,
    dash: `${2.5 * pen.line} ${2.5 * pen.line}`,
  });
}
