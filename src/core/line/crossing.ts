import type { LineAxis, LinePoint } from '../survey.ts';

/** A line seen in a picture: its points in order along it, and its width (full width at half maximum, px). */
export interface SeenLine {
  readonly axis: LineAxis;
  readonly points: readonly LinePoint[];
  readonly widthPx: number;
}

/** A point this near to the crossing, in widths of both lines together, has light of both. */
const DISC_WIDTHS = 1;
/** A line is fitted over this many radii of the disc to either side of it, and at least so many px. */
const FIT_RADII = 4;
const LEAST_FIT_PX = 24;
/** Points of one side that a bridge needs. */
const LEAST_POINTS = 8;
const TURNS = 12;

/**
 * Where a level and a plumb line of one picture cross (px), found by going from one to the other in turn; null when
 * they do not, or when neither is seen there.
 */
export function findCrossing(level: SeenLine, plumb: SeenLine): { u: number; v: number } | null {
  const reachPx = LEAST_FIT_PX + 2 * (level.widthPx + plumb.widthPx);
  const middle = plumb.points[plumb.points.length >> 1];
  if (!middle || level.points.length === 0) return null;
  let { u, v } = middle;
  let moved = Infinity;
  for (let turn = 0; turn < TURNS && moved > 1e-3; turn++) {
    const onLevel = acrossAt(level, u, reachPx);
    const onPlumb = acrossAt(plumb, onLevel, reachPx);
    if (!Number.isFinite(onLevel + onPlumb)) return null;
    moved = Math.abs(onLevel - v) + Math.abs(onPlumb - u);
    [u, v] = [onPlumb, onLevel];
  }
  return moved < 1 ? { u, v } : null;
}

/**
 * Both lines bridged over their crossing: within a disc of about two line widths round it each line has the light of the
 * other, so there its found points give way to its own straight fit to either side, one per column, suspect with the reason
 * `crossing`; where a side has too few points the found ones stay, suspect too. Points set by hand stay as they are.
 */
export function bridgeCrossing(
  level: SeenLine,
  plumb: SeenLine,
): { level: readonly LinePoint[]; plumb: readonly LinePoint[] } {
  const at = findCrossing(level, plumb);
  if (!at) return { level: level.points, plumb: plumb.points };
  const radiusPx = DISC_WIDTHS * (level.widthPx + plumb.widthPx);
  return { level: bridgeLine(level, at.u, radiusPx), plumb: bridgeLine(plumb, at.v, radiusPx) };
}

/** The points of several lines of one picture, each bridged where it crosses another: the same array where it does not. */
export function bridgeCrossings(lines: readonly SeenLine[]): (readonly LinePoint[])[] {
  const points = lines.map((line) => line.points);
  lines.forEach((level, i) => {
    lines.forEach((plumb, k) => {
      if (level.axis !== 'level' || plumb.axis !== 'plumb') return;
      const bridged = bridgeCrossing({ ...level, points: points[i]! }, { ...plumb, points: points[k]! });
      points[i] = bridged.level;
      points[k] = bridged.plumb;
    });
  });
  return points;
}

const alongOf = (axis: LineAxis, { u, v }: LinePoint): number => (axis === 'level' ? u : v);
const acrossOf = (axis: LineAxis, { u, v }: LinePoint): number => (axis === 'level' ? v : u);
const isFound = ({ state }: LinePoint): boolean => state === 'found' || state === 'suspect';

/** Where a line lies across at a place along it, from the nearest points within reach; NaN where there is none. */
function acrossAt({ axis, points }: SeenLine, along: number, reachPx: number): number {
  let [before, after] = [-Infinity, Infinity];
  let [low, high] = [NaN, NaN];
  for (const point of points) {
    if (point.state === 'off') continue;
    const s = alongOf(axis, point);
    if (s <= along && s > before) [before, low] = [s, acrossOf(axis, point)];
    if (s >= along && s < after) [after, high] = [s, acrossOf(axis, point)];
  }
  if (along - before > reachPx || after - along > reachPx) return NaN;
  return after > before ? low + ((along - before) / (after - before)) * (high - low) : low;
}

function bridgeLine({ axis, points }: SeenLine, centre: number, radiusPx: number): readonly LinePoint[] {
  const inDisc = (point: LinePoint): boolean =>
    isFound(point) && Math.abs(alongOf(axis, point) - centre) <= radiusPx;
  const reachPx = radiusPx + Math.max(LEAST_FIT_PX, FIT_RADII * radiusPx);
  const beside = points.filter(
    (point) =>
      point.state !== 'off' &&
      point.state !== 'suspect' &&
      !inDisc(point) &&
      Math.abs(alongOf(axis, point) - centre) <= reachPx,
  );
  const fit = fitStraight(beside, axis, centre);
  if (!fit)
    return points.map((point) => (inDisc(point) ? { ...point, state: 'suspect', why: 'crossing' } : point));
  const kept = points.filter((point) => !inDisc(point));
  const taken = new Set(kept.map((point) => Math.round(alongOf(axis, point))));
  const bridge: LinePoint[] = [];
  for (let s = Math.ceil(centre - radiusPx); s <= centre + radiusPx; s++) {
    if (taken.has(s)) continue;
    const across = fit.across + fit.slope * (s - centre);
    const sigma = Math.hypot(fit.sigma, fit.slopeSigma * (s - centre));
    bridge.push({
      u: axis === 'level' ? s : across,
      v: axis === 'level' ? across : s,
      sigma,
      state: 'suspect',
      why: 'crossing',
    });
  }
  return [...kept, ...bridge].sort((a, b) => alongOf(axis, a) - alongOf(axis, b));
}

interface Straight {
  readonly across: number;
  readonly slope: number;
  /** Spread of one point about the fit, and of its slope (per px). */
  readonly sigma: number;
  readonly slopeSigma: number;
}

/** Weighted straight line through points on both sides of a place; null where a side has too few. */
function fitStraight(points: readonly LinePoint[], axis: LineAxis, centre: number): Straight | null {
  const left = points.filter((point) => alongOf(axis, point) < centre).length;
  if (Math.min(left, points.length - left) < LEAST_POINTS) return null;
  let [w, ws, wss, wa, wsa] = [0, 0, 0, 0, 0];
  for (const point of points) {
    const weight = 1 / (point.sigma * point.sigma);
    const s = alongOf(axis, point) - centre;
    const a = acrossOf(axis, point);
    w += weight;
    ws += weight * s;
    wss += weight * s * s;
    wa += weight * a;
    wsa += weight * s * a;
  }
  const det = w * wss - ws * ws;
  const across = (wss * wa - ws * wsa) / det;
  const slope = (w * wsa - ws * wa) / det;
  let [misfit, own] = [0, 0];
  for (const point of points) {
    misfit += (acrossOf(axis, point) - across - slope * (alongOf(axis, point) - centre)) ** 2;
    own += point.sigma * point.sigma;
  }
  const spread = Math.sqrt(Math.max(misfit, own) / points.length);
  return { across, slope, sigma: spread, slopeSigma: spread / Math.sqrt(wss / w) / Math.sqrt(points.length) };
}
