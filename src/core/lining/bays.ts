import type { Opening, StockSize, Wall, WallRect } from '../survey.ts';
import { makeLine, raiseLine, rangeOf, type WallLine } from './boards/wallLine.ts';
import type { LiningSettings } from './defaults.ts';
import { clipSides, rectOf, sidesOf, sortCuts, type Sides } from './rects.ts';

/** What boards may cover: the rectangle round it, and the lines its lower and upper edge follow. */
export interface BoardedFrame extends Sides {
  readonly floor: WallLine;
  readonly ceiling: WallLine;
  /** How much wider than wanted the floor gap is because the stock is a little short. */
  readonly widerMm: number;
}

/** How much wider than wanted the floor gap becomes where a board is short by so much; 0 where no skirting board hides that. */
export const widenFloorGap = (
  shortMm: number,
  { floorGapMm, floorGapMostMm }: Pick<LiningSettings, 'floorGapMm' | 'floorGapMostMm'>,
): number => (shortMm > 0 && floorGapMm + shortMm <= floorGapMostMm ? shortMm : 0);

/**
 * The part of the wall between its floor and ceiling gaps, which boards may cover. Where the longest stock is a little
 * short of a level wall the floor gap grows, as far as a skirting board hides it, rather than adding a strip of board.
 */
export function boardedFrame(
  wall: Wall,
  settings: LiningSettings,
  stock: readonly StockSize[],
): BoardedFrame {
  const ceiling = raiseLine(makeLine(wall.ceiling, wall.height), -settings.ceilingGapMm);
  const lowest = raiseLine(makeLine(wall.floor, 0), settings.floorGapMm);
  const top = rangeOf(ceiling, 0, wall.width).highest;
  const bottom = rangeOf(lowest, 0, wall.width).lowest;
  const isLevel =
    rangeOf(ceiling, 0, wall.width).lowest === top && rangeOf(lowest, 0, wall.width).highest === bottom;
  const shortMm = top - bottom - Math.max(...stock.map(({ length }) => length));
  const widerMm = isLevel ? widenFloorGap(shortMm, settings) : 0;
  return {
    left: 0,
    right: wall.width,
    bottom: bottom + widerMm,
    top,
    floor: raiseLine(lowest, widerMm),
    ceiling,
    widerMm,
  };
}

/**
 * The openings as the boards meet them: within the frame, and drawn out to its edge where the strip left between would be
 * too small to board.
 */
export function trimOpenings(wall: Wall, frame: BoardedFrame, leastPieceMm: number): Opening[] {
  const stretch = (opening: Sides): Sides => {
    const { lowest } = rangeOf(frame.floor, opening.left, opening.right);
    const { highest } = rangeOf(frame.ceiling, opening.left, opening.right);
    return {
      left: opening.left - frame.left < leastPieceMm ? frame.left : opening.left,
      right: frame.right - opening.right < leastPieceMm ? frame.right : opening.right,
      bottom: opening.bottom - lowest < leastPieceMm ? frame.bottom : opening.bottom,
      top: highest - opening.top < leastPieceMm ? frame.top : opening.top,
    };
  };
  return wall.openings.flatMap((opening) => {
    const inside = clipSides(sidesOf(opening), frame);
    return inside ? [{ ...opening, ...rectOf(stretch(inside)) }] : [];
  });
}

/**
 * The stretches of the wall that carry boards: openings from floor to ceiling part it into bays, and a wall without such
 * openings is one bay.
 */
export function findBays(frame: Sides, openings: readonly WallRect[]): Sides[] {
  const { bottom: floor, top } = frame;
  const sides = openings.map(sidesOf);
  const cuts = sortCuts(
    sides.flatMap((opening) => [opening.left, opening.right]),
    frame.left,
    frame.right,
  );
  const bays: Sides[] = [];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const [left, right] = [cuts[i]!, cuts[i + 1]!];
    let bottom = floor;
    for (const opening of sides
      .filter((each) => each.left < right && each.right > left)
      .sort((a, b) => a.bottom - b.bottom))
      if (opening.bottom <= bottom) bottom = Math.max(bottom, opening.top);
    if (bottom >= top) continue;
    const last = bays.at(-1);
    if (last?.right === left) bays[bays.length - 1] = { ...last, right };
    else bays.push({ left, right, bottom: floor, top });
  }
  return bays;
}
