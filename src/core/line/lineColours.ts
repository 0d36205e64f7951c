import type { LineBand } from './lineBand.ts';
import { backgroundAway } from './profile.ts';

/** Colour of a line against the wall on both sides of it, column by column (levels). */
export interface LineColours {
  /** By how much the laser's own channel, the other of red and green, and blue are above the wall on the line. */
  readonly gains: readonly [Float64Array, Float64Array, Float64Array];
  /** The own channel at its brightest on the line, and on the wall beside it. */
  readonly peak: Float64Array;
  readonly wallOwn: Float64Array;
  /** How far the wall's two sides differ in colour. */
  readonly sides: Float64Array;
}

/**
 * All channels above this level, and this much above the wall's least channel: a core too bright to have a
 * colour.
 */
const CORE_LEVEL = 204;
const CORE_GAIN = 25;
/** The wall is read over this many rows next to the line, or as many as the line is wide: beyond may lie a tape. */
const WALL_ROWS = 4;

/** Reads the colours of a line of this width (px) along its course (across-coordinate per column). */
export function readColours(band: LineBand, course: Float64Array, widthPx: number): LineColours {
  const { columns, rows, top } = band;
  const [own, a, b] = band.channels;
  // JPEG halves the colour both ways: less than this would leave some of a thin line's colour out
  const near = Math.max(2, 0.8 * widthPx);
  const far = backgroundAway(widthPx);
  const breadth = Math.max(WALL_ROWS, Math.ceil(widthPx));
  const values = (): Float64Array => new Float64Array(columns);
  const gains = [values(), values(), values()] as const;
  const [peak, wallOwn, sides] = [values(), values(), values()];
  for (let x = 0; x < columns; x++) {
    const base = x * rows;
    const middle = course[x]! - top[x]!;
    const first = Math.max(0, Math.ceil(middle - far));
    const last = Math.min(rows - 1, Math.floor(middle + far));
    let ownBefore = 0;
    let aBefore = 0;
    let bBefore = 0;
    const start = Math.max(0, first - breadth);
    for (let i = base + start; i < base + first; i++) {
      ownBefore += own[i]!;
      aBefore += a[i]!;
      bBefore += b[i]!;
    }
    let ownAfter = 0;
    let aAfter = 0;
    let bAfter = 0;
    const end = Math.min(rows, last + 1 + breadth);
    for (let i = base + last + 1; i < base + end; i++) {
      ownAfter += own[i]!;
      aAfter += a[i]!;
      bAfter += b[i]!;
    }
    const before = 1 / (first - start);
    const after = 1 / (end - 1 - last);
    const wall = (ownBefore * before + ownAfter * after) / 2;
    const wallA = (aBefore * before + aAfter * after) / 2;
    const wallB = (bBefore * before + bAfter * after) / 2;
    wallOwn[x] = wall;
    sides[x] = Math.max(
      Math.abs((ownBefore - aBefore) * before - (ownAfter - aAfter) * after),
      Math.abs((ownBefore - bBefore) * before - (ownAfter - bAfter) * after),
    );
    const white = Math.max(CORE_LEVEL, CORE_GAIN + Math.min(wall, wallA, wallB));
    let best = -1;
    let most = -Infinity;
    let brightest = 0;
    let cores = 0;
    let sumOwn = 0;
    let sumA = 0;
    let sumB = 0;
    let count = 0;
    for (let j = first, i = base + first; j <= last; j++, i++) {
      const ownHere = own[i]!;
      const aHere = a[i]!;
      const bHere = b[i]!;
      const excess = ownHere - wall - Math.max(aHere - wallA, bHere - wallB);
      if (excess > most) {
        best = i;
        most = excess;
      }
      if (j < middle - near || j > middle + near) continue;
      if (ownHere > brightest) brightest = ownHere;
      if (ownHere >= white && aHere >= white && bHere >= white) cores++;
      sumOwn += ownHere;
      sumA += aHere;
      sumB += bHere;
      count++;
    }
    peak[x] = brightest;
    // a clipped core has no colour: its flanks and halo have
    gains[0][x] = (cores > 0 ? own[best]! : sumOwn / count) - wall;
    gains[1][x] = (cores > 0 ? a[best]! : sumA / count) - wallA;
    gains[2][x] = (cores > 0 ? b[best]! : sumB / count) - wallB;
  }
  return { gains, peak, wallOwn, sides };
}
