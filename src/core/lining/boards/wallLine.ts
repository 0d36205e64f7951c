import type { WallSpot } from '../../survey.ts';

/** A line across the wall as spots from left to right, straight between them, level beyond: the floor's or the ceiling's edge. */
export type WallLine = readonly WallSpot[];

/**
 * Height of a line at a place (mm).
 * @example heightAt([{ along: 0, up: 0 }, { along: 1000, up: 20 }], 250) // 5
 */
export function heightAt(line: WallLine, along: number): number {
  const next = line.findIndex((spot) => spot.along >= along);
  if (next === 0) return line[0]!.up;
  if (next < 0) return line.at(-1)!.up;
  const [a, b] = [line[next - 1]!, line[next]!];
  return a.up + ((b.up - a.up) * (along - a.along)) / (b.along - a.along);
}

/** The spots of a line between two places, with those at the two places themselves. */
export function cutLine(line: WallLine, from: number, to: number): WallSpot[] {
  const inner = line.filter(({ along }) => along > from && along < to);
  return [{ along: from, up: heightAt(line, from) }, ...inner, { along: to, up: heightAt(line, to) }];
}

/** Lowest and highest of a line between two places. */
export function rangeOf(line: WallLine, from: number, to: number): { lowest: number; highest: number } {
  const ups = cutLine(line, from, to).map(({ up }) => up);
  return { lowest: Math.min(...ups), highest: Math.max(...ups) };
}

/** How far apart the two spots of a step are put (mm). */
const stepMm = 1e-3;

/** The line of a floor or ceiling given by spots in any order; level at `up` where none are given. Two at one place make a step. */
export function makeLine(spots: readonly WallSpot[] | undefined, up: number): WallLine {
  const line: WallSpot[] = [];
  for (const spot of [...(spots ?? [])].sort((a, b) => a.along - b.along)) {
    const before = line.at(-1);
    line.push(
      before && spot.along - before.along < stepMm ? { ...spot, along: before.along + stepMm } : spot,
    );
  }
  return line.length > 0 ? line : [{ along: 0, up }];
}

/** The same line so much higher. */
export const raiseLine = (line: WallLine, by: number): WallLine =>
  line.map(({ along, up }) => ({ along, up: up + by }));
