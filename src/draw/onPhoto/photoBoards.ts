import { sidesOf, growSides } from '../../core/lining/rects.ts';
import type { Board } from '../../core/results.ts';
import type { Units } from '../length.ts';
import { writeLength } from '../length.ts';
import type { Pen } from '../look.ts';
import { frameRing } from '../bands.ts';
import type { Point } from '../rings.ts';
import { areaAround, type Room } from '../room.ts';
import { textRoom } from '../text.ts';
import type { SvgNode } from '../tree.ts';
import { ink, inkLines, inkText } from './photoInk.ts';
import { cutLine, cutOut, placeOnPhoto, tracePhoto, type PhotoLine } from './photoLines.ts';
import type { Lift, PhotoSight } from './photoSight.ts';

/** A cut-out's side nearer than this (mm) to the board's edge is no cut. */
const nearMm = 1;

/** The outline of a board over the wall with what is cut out of it: open lines (along, up; mm). */
export function outlineBoard(board: Board): (readonly Point[])[] {
  const sides = sidesOf(board);
  const corners = board.outline?.map(({ along, up }): Point => [along, up]) ?? frameRing(sides);
  const cutouts = board.cutouts.map(sidesOf);
  const around = cutOut(
    [[...corners, corners[0]!]],
    cutouts.map((each) => growSides(each, nearMm / 2)),
  );
  const inner = growSides(sides, -nearMm);
  const cuts = cutouts.flatMap((cutout) => {
    const ring = frameRing(cutout);
    return cutLine([...ring, ring[0]!], inner, 'inside');
  });
  return [...around, ...cuts];
}

/** The boards' edges as the camera sees them at the given depth. */
export function seeBoards(sight: PhotoSight, lift: Lift, boards: readonly Board[]): PhotoLine[] {
  return boards.flatMap((board) =>
    outlineBoard(board).flatMap((line) => tracePhoto(sight, lift, line, false)),
  );
}

/** Shares of a board's width and height to try its name at: near its middle first. */
const shares = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];
const spots = shares
  .flatMap((across) => shares.map((up) => [across, up] as const))
  .sort((a, b) => Math.hypot(a[0] - 0.5, a[1] - 0.5) - Math.hypot(b[0] - 0.5, b[1] - 0.5));

/** The letter of each board and its cut size under it, where they are seen; the letter alone where there is no room. */
function nameBoard(
  sight: PhotoSight,
  lift: Lift,
  board: Board,
  units: Units,
  pen: Pen,
  room: Room,
): SvgNode[] {
  const size = `${writeLength(board.width, units, 1)} × ${writeLength(board.height, units, 1)}`;
  const letter = 2.2 * pen.font;
  const isCut = (along: number, up: number) =>
    board.cutouts.some(
      (cut) => along > cut.along && along < cut.along + cut.width && up > cut.up && up < cut.up + cut.height,
    );
  const places = spots.flatMap(([across, high]) => {
    const [along, up] = [board.along + across * board.width, board.up + high * board.height];
    const spot = isCut(along, up) ? null : placeOnPhoto(sight, lift, [along, up]);
    return spot ? [spot] : [];
  });
  const style = { anchor: 'middle', fill: ink.board } as const;
  for (const text of [size, '']) {
    const wide = 1.1 * Math.max(textRoom(text, pen.font), textRoom(board.id, letter));
    const high = letter + (text === '' ? 0 : 1.5 * pen.font);
    const place = room.takeFirst(places.map(([x, y]) => ({ x, y, area: areaAround(x, y, wide, high) })));
    if (!place) continue;
    const { x, area } = place;
    const under = inkText(text, x, area.bottom - 0.7 * pen.font, { ...style, size: pen.font });
    return [
      inkText(board.id, x, area.top + 0.5 * letter, { ...style, size: letter, bold: true }),
      ...(text === '' ? [] : [under]),
    ];
  }
  return [];
}

/** The boards: their edges on the bed plane, or in front of it by their thickness, and their names. */
export function drawBoardsOnPhoto(
  sight: PhotoSight,
  boards: readonly Board[],
  lift: Lift,
  pen: Pen,
): SvgNode[] {
  return inkLines(seeBoards(sight, lift, boards), { colour: ink.board, width: 0.8 * pen.heavy });
}

/** The names of the boards, where they find room. */
export function nameBoardsOnPhoto(
  sight: PhotoSight,
  boards: readonly Board[],
  lift: Lift,
  units: Units,
  pen: Pen,
  room: Room,
): SvgNode[] {
  return boards.flatMap((board) => nameBoard(sight, lift, board, units, pen, room));
}
