import type { Opening, Wall, WallRect } from '../survey.ts';
import type { LiningSettings } from './defaults.ts';
import { clipSides, rectOf, sidesOf, sortCuts, type Sides } from './rects.ts';

/**
 * The part of the wall between its floor and ceiling gaps, which boards may cover. Where the stock is a little short of it
 * the floor gap grows, as far as a skirting board hides it, rather than adding a strip of board.
 */
export function boardedFrame(wall: Wall, settings: LiningSettings, stockLengthMm: number): Sides {
  const shortMm = wall.height - settings.ceilingGapMm - settings.floorGapMm - stockLengthMm;
  const hidden = shortMm > 0 && settings.floorGapMm + shortMm <= settings.floorGapMostMm;
  return {
    left: 0,
    right: wall.width,
    bottom: settings.floorGapMm + (hidden ? shortMm : 0),
    top: wall.height - settings.ceilingGapMm,
  };
}

/**
 * The openings as the boards meet them: within the frame, and drawn out to its edge where the strip left between would be
 * too small to board.
 */
export function trimOpenings(wall: Wall, frame: Sides, leastPieceMm: number): Opening[] {
  const stretch = (opening: Sides): Sides => ({
    left: opening.left - frame.left < leastPieceMm ? frame.left : opening.left,
    right: frame.right - opening.right < leastPieceMm ? frame.right : opening.right,
    bottom: opening.bottom - frame.bottom < leastPieceMm ? frame.bottom : opening.bottom,
    top: frame.top - opening.top < leastPieceMm ? frame.top : opening.top,
  });
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
  const sides = openings.map(sidesOf);
  const cuts = sortCuts(
    sides.flatMap((opening) => [opening.left, opening.right]),
    frame.left,
    frame.right,
  );
  const bays: Sides[] = [];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const [left, right] = [cuts[i]!, cuts[i + 1]!];
    let bottom = frame.bottom;
    for (const opening of sides
      .filter((each) => each.left < right && each.right > left)
      .sort((a, b) => a.bottom - b.bottom))
      if (opening.bottom <= bottom) bottom = Math.max(bottom, opening.top);
    if (bottom >= frame.top) continue;
    const last = bays.at(-1);
    if (last?.right === left) bays[bays.length - 1] = { ...last, right };
    else bays.push({ ...frame, left, right });
  }
  return bays;
}
