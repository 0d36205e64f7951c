import type { Board, LiningPlan } from '../core/results.ts';
import type { WallFrame } from './frame.ts';
import { writeLength, type Units } from './length.ts';
import { tracePath } from './bands.ts';
import { look, type Pen } from './look.ts';
import { areaAround, type Room, type TextPlace } from './room.ts';
import { label, textRoom } from './text.ts';
import { element, type SvgNode } from './tree.ts';
import { drawRect } from './wallParts.ts';

/** Outlines of the boards; an end that follows a sloping floor or ceiling is drawn so. */
export function drawBoards(boards: readonly Board[], frame: WallFrame, pen: Pen): SvgNode {
  const outline = { fill: 'none', stroke: look.pencil, 'stroke-width': pen.heavy };
  return element(
    'g',
    {},
    ...boards.map((board) =>
      board.outline === null
        ? drawRect(board, frame, outline)
        : element('path', {
            d: tracePath([board.outline.map(({ along, up }) => [along, up] as const)], frame, true),
            ...outline,
          }),
    ),
  );
}

/** Places inside a board for something of a size, the board's middle first, then further and further from it. */
function listPlaces(board: Board, frame: WallFrame, width: number, height: number): TextPlace[] {
  const [left, right] = [frame.x(board.along), frame.x(board.along + board.width)];
  const [top, bottom] = [frame.y(board.up + board.height), frame.y(board.up)];
  const [midX, midY] = [(left + right) / 2, (top + bottom) / 2];
  const margin = 0.3 * height;
  const [reachX, reachY] = [(right - left - width) / 2 - margin, (bottom - top - height) / 2 - margin];
  if (reachX < 0 || reachY < 0) return [];
  const shares = [-1, -0.75, -0.5, -0.25, 0, 0.25, 0.5, 0.75, 1];
  return shares
    .flatMap((across) => shares.map((down) => [across, down] as const))
    .sort((a, b) => Math.hypot(...a) - Math.hypot(...b))
    .map(([across, down]) => {
      const [x, y] = [midX + across * reachX, midY + down * reachY];
      return { x, y, area: areaAround(x, y, width, height) };
    });
}

/** The letter of each board, large, and its cut size under it; the letter alone, smaller, where there is no room. */
export function nameBoards(
  { boards }: LiningPlan,
  frame: WallFrame,
  units: Units,
  pen: Pen,
  room: Room,
): SvgNode {
  const letter = 1.7 * pen.font;
  return element(
    'g',
    {},
    ...boards.flatMap((board): SvgNode[] => {
      const size = `${writeLength(board.width, units, 1)} × ${writeLength(board.height, units, 1)}`;
      const wide = textRoom(size, pen.font);
      const whole = room.takeFirst(listPlaces(board, frame, wide, letter + 1.5 * pen.font));
      const name = { anchor: 'middle', bold: true, fill: look.pencil } as const;
      if (whole)
        return [
          label(board.id, whole.x, whole.area.top + 0.5 * letter, { ...name, size: letter }),
          label(size, whole.x, whole.area.bottom - 0.65 * pen.font, {
            size: pen.font,
            anchor: 'middle',
            fill: look.pencil,
          }),
        ];
      for (const font of [letter, pen.font]) {
        const alone = room.takeFirst(listPlaces(board, frame, textRoom(board.id, font), font));
        if (alone) return [label(board.id, alone.x, alone.y, { ...name, size: font })];
      }
      return [];
    }),
  );
}

/** Where boards meet along the wall, mm from its left end, in order. */
export function listJoints(boards: readonly Board[], widthMm: number): number[] {
  const edges = boards
    .flatMap(({ along, width }) => [along, along + width])
    .map((at) => Math.round(at * 10) / 10);
  return [...new Set(edges)].filter((at) => at > 1 && at < widthMm - 1).sort((a, b) => a - b);
}
