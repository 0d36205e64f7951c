import type { WallRect, WallSpot } from '../../survey.ts';
import { rectOf, sidesOf, type Sides } from '../rects.ts';
import { cutLine, type WallLine } from './wallLine.ts';

/** The lines that boards must stay between. */
export interface WallLines {
  readonly floor: WallLine;
  readonly ceiling: WallLine;
}

/** A line between two places, held between two heights, with the spots where it meets them. */
function holdLine(line: WallLine, { left, right, bottom, top }: Sides): WallSpot[] {
  const spots = cutLine(line, left, right);
  const held: WallSpot[] = [];
  spots.forEach((spot, k) => {
    const before = spots[k - 1];
    if (before) {
      const crossings = [bottom, top]
        .filter((up) => (before.up - up) * (spot.up - up) < 0)
        .map((up) => ({
          along: before.along + ((spot.along - before.along) * (up - before.up)) / (spot.up - before.up),
          up,
        }));
      held.push(...crossings.sort((a, b) => a.along - b.along));
    }
    held.push({ along: spot.along, up: Math.min(Math.max(spot.up, bottom), top) });
  });
  return held;
}

/** Corners without those that lie on the straight between their neighbours, or on the one before. */
function dropStraight(corners: readonly WallSpot[]): WallSpot[] {
  const distinct = corners.filter((corner, k) => {
    const before = corners.at(k - 1)!;
    return Math.abs(corner.along - before.along) > 1e-6 || Math.abs(corner.up - before.up) > 1e-6;
  });
  return distinct.filter((corner, k) => {
    const a = distinct.at(k - 1)!;
    const b = distinct[(k + 1) % distinct.length]!;
    const turn = (corner.along - a.along) * (b.up - a.up) - (corner.up - a.up) * (b.along - a.along);
    return Math.abs(turn) > 1e-6 * Math.hypot(b.along - a.along, b.up - a.up);
  });
}

/**
 * A board's rectangle as far as it lies between floor and ceiling: the rectangle round what is left, and its corners from
 * the lower left, counter-clockwise, where an end follows a slope (null = the rectangle). Null when nothing is left.
 */
export function fitBetween(
  rect: WallRect,
  { floor, ceiling }: WallLines,
): { rect: WallRect; outline: WallSpot[] | null } | null {
  const sides = sidesOf(rect);
  const lower = holdLine(floor, sides);
  const upper = holdLine(ceiling, sides);
  const bottom = Math.min(...lower.map(({ up }) => up));
  const top = Math.max(...upper.map(({ up }) => up));
  if (top - bottom <= 1e-6) return null;
  const fitted = rectOf({ ...sides, bottom, top });
  const isLevel = (line: readonly WallSpot[], up: number) =>
    line.every((spot) => Math.abs(spot.up - up) <= 1e-6);
  if (isLevel(lower, bottom) && isLevel(upper, top)) return { rect: fitted, outline: null };
  return { rect: fitted, outline: dropStraight([...lower, ...upper.reverse()]) };
}
