import type { Profile, Solution, Surface, WallStep } from '../../core/results.ts';
import type { Survey } from '../../core/survey.ts';
import { formatLength } from '../units.ts';

/** How well one part of the wall is known: root mean square of sigma over its nodes (mm; NaN without any) and its share of the wall. */
export interface KnownPart {
  readonly part: 'lines' | 'between' | 'edges';
  readonly sigmaMm: number;
  readonly share: number;
}

/** Within this of a line a spot counts as on it, within this of the wall's ends as at its edge (mm). */
const NEAR_LINE_MM = 50;
const NEAR_EDGE_MM = 150;

/** The stretch of the wall that a profile was seen over, as limits along and up (mm) grown by what counts as near. */
function reachOf({ axis, atMm, s }: Profile) {
  const across = [atMm - NEAR_LINE_MM, atMm + NEAR_LINE_MM] as const;
  const run = [(s[0] ?? NaN) - NEAR_LINE_MM, (s.at(-1) ?? NaN) + NEAR_LINE_MM] as const;
  return axis === 'level' ? { along: run, up: across } : { along: across, up: run };
}

const within = ([least, most]: readonly [number, number], value: number) => value >= least && value <= most;

/** How well the wall is known on its lines, at its edges away from them, and in between. */
export function splitAccuracy(survey: Survey, { surface, profiles }: Solution): KnownPart[] {
  const reaches = profiles.filter(({ s }) => s.length > 1).map(reachOf);
  const { width, height } = survey.wall;
  const parts = { lines: { sum: 0, count: 0 }, between: { sum: 0, count: 0 }, edges: { sum: 0, count: 0 } };
  let all = 0;
  surface.sigma.forEach((sigma, at) => {
    if (Number.isNaN(sigma)) return;
    const { along, up } = placeOfNode(surface, at);
    const onLine = reaches.some((reach) => within(reach.along, along) && within(reach.up, up));
    const edge = Math.min(along, width - along, up, height - up) < NEAR_EDGE_MM;
    const part = parts[onLine ? 'lines' : edge ? 'edges' : 'between'];
    part.sum += sigma ** 2;
    part.count++;
    all++;
  });
  return (['lines', 'between', 'edges'] as const).map((part) => ({
    part,
    sigmaMm: Math.sqrt(parts[part].sum / parts[part].count),
    share: parts[part].count / all,
  }));
}

/** Where a node of the surface lies on the wall (mm). */
function placeOfNode({ nx, stepMm }: Surface, at: number): { along: number; up: number } {
  return { along: (at % nx) * stepMm, up: Math.floor(at / nx) * stepMm };
}

/** The spot of the wall (mm) that is known worst, and its sigma; null when nothing is known. */
export function findWorstSpot(surface: Surface): { along: number; up: number; sigmaMm: number } | null {
  let worst = -1;
  surface.sigma.forEach((sigma, at) => {
    if (sigma > (worst < 0 ? -Infinity : surface.sigma[worst]!)) worst = at;
  });
  return worst < 0 ? null : { ...placeOfNode(surface, worst), sigmaMm: surface.sigma[worst]! };
}

/** The unevenness as one would say it: how far its waves reach and how rough it is between. */
export function sayUnevenness({ unevenness }: Solution): string {
  const { roughMm } = unevenness;
  const rough =
    roughMm < 0.3
      ? 'smooth between its waves, like good plaster'
      : roughMm < 1
        ? 'a little rough between its waves'
        : 'rough between its waves, like bare masonry';
  return rough;
}

/** A step of the face in words. */
export function sayStep({ axis, atMm, outMm }: WallStep, units: Survey['units']): string {
  const way = outMm > 0 ? 'forward' : 'back';
  const at = formatLength(atMm, units, 0);
  const where = axis === 'plumb' ? `right of ${at} along` : `above ${at} up`;
  return `The wall's face steps ${way} by ${formatLength(Math.abs(outMm), units)} ${where}.`;
}
