import { chooseCell, layGround, type Ground, type GroundWall } from './ground.ts';
import { maternCorrelation } from './matern.ts';
import type { Setback } from './setback.ts';

/** Nodes of the wall's surface: (i, j) at along = i stepMm, up = j stepMm; `index` = position in the solver's order. */
export interface Grid {
  readonly stepMm: number;
  readonly nx: number;
  readonly ny: number;
  /** Nodes of one run of the solver's order: the short side, so that the band is narrow. */
  readonly run: number;
  readonly columns: boolean;
  /** What of it is wall; null = all of it. */
  readonly ground: Ground | null;
  readonly wall: GroundWall;
  /** Edges over which the face steps by a known amount, which the field has not to follow. */
  readonly setbacks: readonly Setback[];
}

const STEPS_MM = [25, 30, 40, 50, 60, 75, 100, 125, 150, 200, 250, 300, 400, 500];
const MOST_NODES = 25_000;

/**
 * The finest grid on a wall (mm) with no more than 25,000 nodes, steps from 25 mm.
 * @example chooseGrid({ width: 3600, height: 2450 }).stepMm // 25
 */
export function chooseGrid(wall: GroundWall): Grid {
  const step = STEPS_MM.find((mm) => countNodes(wall, mm) <= MOST_NODES);
  if (step === undefined)
    throw new Error(`expected a wall of a building, got ${wall.width} x ${wall.height} mm`);
  return createGrid(wall, step);
}

function countNodes(wall: { readonly width: number; readonly height: number }, stepMm: number): number {
  return (Math.ceil(wall.width / stepMm) + 1) * (Math.ceil(wall.height / stepMm) + 1);
}

/** The grid of a given step (mm) on a wall (mm), openings left out of it; at least two nodes each way. */
export function createGrid(wall: GroundWall, stepMm: number): Grid {
  const nx = Math.max(2, Math.ceil(wall.width / stepMm) + 1);
  const ny = Math.max(2, Math.ceil(wall.height / stepMm) + 1);
  const ground = layGround({ nx, ny, stepMm }, wall);
  return {
    stepMm,
    nx,
    ny,
    run: Math.min(nx, ny),
    columns: ny <= nx,
    wall,
    ground,
    setbacks: wall.setbacks ?? [],
  };
}

/** Position of node (i, j) in the solver's order. @example indexNode(createGrid({ width: 100, height: 50 }, 25), 2, 1) // 7 */
export function indexNode(grid: Grid, i: number, j: number): number {
  return grid.columns ? i * grid.ny + j : j * grid.nx + i;
}

/** Four nodes around or near a place and their bilinear weights; `x`, `y` are the place in their cell (0 to 1 inside it). */
export interface GridPlace {
  readonly nodes: readonly [number, number, number, number];
  readonly weights: readonly [number, number, number, number];
  readonly x: number;
  readonly y: number;
}

/**
 * Where a place on the wall (mm) lies on the grid; places outside are moved to its edge. Beside an opening the wall is gone on
 * with from the nearest cell that is all wall, or taken as that of the nearest node (`chooseCell`).
 */
export function locateOnGrid(grid: Grid, alongMm: number, upMm: number): GridPlace {
  const gx = Math.min(Math.max(alongMm / grid.stepMm, 0), grid.nx - 1);
  const gy = Math.min(Math.max(upMm / grid.stepMm, 0), grid.ny - 1);
  const own = {
    i: Math.min(Math.floor(gx), grid.nx - 2),
    j: Math.min(Math.floor(gy), grid.ny - 2),
    corner: -1,
  };
  const { i, j, corner } = grid.ground ? chooseCell(grid.ground, gx, gy) : own;
  const x = gx - i;
  const y = gy - j;
  return {
    nodes: [
      indexNode(grid, i, j),
      indexNode(grid, i + 1, j),
      indexNode(grid, i, j + 1),
      indexNode(grid, i + 1, j + 1),
    ],
    weights:
      corner < 0
        ? [(1 - x) * (1 - y), x * (1 - y), (1 - x) * y, x * y]
        : [Number(corner === 0), Number(corner === 1), Number(corner === 2), Number(corner === 3)],
    x,
    y,
  };
}

/**
 * Variance, as a share of the field's variance, of what a Matern field does between the nodes: of f(x, y) less its
 * interpolation from (or continuation beyond) the cell's corners. Part of an observation's noise, so that a coarse grid does not pretend to follow.
 * Source: variance of a linear combination of the field, correlation as `maternCorrelation`.
 */
export function varianceInCell(place: GridPlace, stepMm: number, rangeMm: number): number {
  const { weights: w, x, y } = place;
  if (stepMm !== last.stepMm || rangeMm !== last.rangeMm) last = correlateCorners(stepMm, rangeMm);
  const { byApart } = last;
  let variance = 1;
  for (let a = 0; a < 4; a++) {
    // corner a lies at (a & 1, a >> 1)
    const away = Math.hypot(x - (a & 1), y - (a >> 1));
    variance -= 2 * w[a]! * maternCorrelation(stepMm * away, rangeMm);
    for (let b = 0; b < 4; b++) variance += w[a]! * w[b]! * byApart[a ^ b]!;
  }
  return Math.max(0, variance);
}

/** Correlation of a cell's corners a and b, at a ^ b: the same, beside each other either way, across. */
function correlateCorners(stepMm: number, rangeMm: number) {
  const side = maternCorrelation(stepMm, rangeMm);
  return { stepMm, rangeMm, byApart: [1, side, side, maternCorrelation(stepMm * Math.SQRT2, rangeMm)] };
}

/** Those asked for last: all observations lie on one grid. */
let last = correlateCorners(100, 1000);
