import type { WallRect } from '../../survey.ts';
import { closeMm, type CutItem } from './pieceKind.ts';

/** Whether two boards stand beside each other: the right edge of `left` at the left edge of `right`, over some height. */
const isBeside = (left: WallRect, right: WallRect) =>
  Math.abs(left.along + left.width - right.along) <= closeMm &&
  Math.min(left.up + left.height, right.up + right.height) - Math.max(left.up, right.up) > closeMm;

/**
 * Boards as items to cut: at which of its upright edges each meets another board.
 * @example listBoardItems([{ along: 0, up: 0, width: 1200, height: 2400 }, { along: 1200, up: 0, width: 500, height: 2400 }], (k) => `${k}`)[1].joints // { left: true, right: false }
 */
export function listBoardItems(rects: readonly WallRect[], nameOf: (index: number) => string): CutItem[] {
  return rects.map((rect, k) => ({
    id: nameOf(k),
    width: rect.width,
    length: rect.height,
    mayTurn: false,
    joints: {
      left: rects.some((other) => isBeside(other, rect)),
      right: rects.some((other) => isBeside(rect, other)),
    },
  }));
}
