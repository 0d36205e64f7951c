import { isLined } from '../lining/linedNodes.ts';
import { sidesOf, type Sides } from '../lining/rects.ts';
import type { WallRect } from '../survey.ts';
import { asOpening, type Setback } from './setback.ts';

/** The wall that a grid lies on: its size and what is no wall in it (mm). */
export interface GroundWall {
  readonly width: number;
  readonly height: number;
  readonly openings?: readonly WallRect[] | undefined;
  /** Edges over which its face steps: nothing is tied across them. */
  readonly setbacks?: readonly Setback[] | undefined;
}

/**
 * Which nodes of a grid are wall and which neighbours are joined by wall, row by row from the floor (j nx + i), 1 or 0:
 * `wall` the node, `right` its link to (i + 1, j), `up` its link to (i, j + 1). A link is cut where an opening lies between its ends.
 */
export interface Ground {
  readonly nx: number;
  readonly ny: number;
  readonly stepMm: number;
  readonly around: GroundWall;
  readonly openings: readonly Sides[];
  readonly wall: Uint8Array;
  readonly right: Uint8Array;
  readonly up: Uint8Array;
}

/** How far to either side of a link one looks for wall (mm), as `isLined` does round a node. */
const BESIDE_MM = 0.01;

/** The ground of a grid with openings; null where all of it is wall. */
export function layGround(
  shape: { readonly nx: number; readonly ny: number; readonly stepMm: number },
  wall: GroundWall,
): Ground | null {
  const { width, height, setbacks = [] } = wall;
  const openings = [...(wall.openings ?? []), ...setbacks.map(asOpening)];
  if (openings.length === 0) return null;
  const { nx, ny, stepMm } = shape;
  const lined = { width, height, openings };
  const sides = openings.map(sidesOf);
  const isWall = new Uint8Array(nx * ny);
  const right = new Uint8Array(nx * ny);
  const up = new Uint8Array(nx * ny);
  // the last nodes of a grid may lie beyond the wall; they stand for its end
  const alongOf = (i: number) => Math.min(i * stepMm, width);
  const upOf = (j: number) => Math.min(j * stepMm, height);
  for (let j = 0; j < ny; j++)
    for (let i = 0; i < nx; i++) {
      const at = j * nx + i;
      const [x, y] = [alongOf(i), upOf(j)];
      isWall[at] = Number(isLined(lined, x, y));
      const beside = [-BESIDE_MM, BESIDE_MM];
      if (i + 1 < nx)
        right[at] = Number(
          beside.some((d) => y + d > 0 && y + d < height && !isCut(sides, x, y + d, alongOf(i + 1), y + d)),
        );
      if (j + 1 < ny)
        up[at] = Number(
          beside.some((d) => x + d > 0 && x + d < width && !isCut(sides, x + d, y, x + d, upOf(j + 1))),
        );
    }
  return { nx, ny, stepMm, around: wall, openings: sides, wall: isWall, right, up };
}

/** Whether the straight line between two places (mm) runs through the inside of an opening. Liang & Barsky 1984, clipping. */
function isCut(openings: readonly Sides[], x0: number, y0: number, x1: number, y1: number): boolean {
  return openings.some(({ left, right, bottom, top }) => {
    const [dx, dy] = [x1 - x0, y1 - y0];
    if (dx === 0 && !(x0 > left && x0 < right)) return false;
    if (dy === 0 && !(y0 > bottom && y0 < top)) return false;
    let [enter, leave] = [0, 1];
    if (dx !== 0) {
      const ends = [(left - x0) / dx, (right - x0) / dx];
      enter = Math.max(enter, Math.min(...ends));
      leave = Math.min(leave, Math.max(...ends));
    }
    if (dy !== 0) {
      const ends = [(bottom - y0) / dy, (top - y0) / dy];
      enter = Math.max(enter, Math.min(...ends));
      leave = Math.min(leave, Math.max(...ends));
    }
    return enter < leave || (dx === 0 && dy === 0);
  });
}

/** Whether the cell right of and above node (i, j) is wall to all four of its nodes. */
function isWhole({ nx, right, up }: Ground, i: number, j: number): boolean {
  const at = j * nx + i;
  return right[at]! + right[at + nx]! + up[at]! + up[at + 1]! === 4;
}

/** A cell of the grid by its left lower node; `corner` = the one of its nodes (0 to 3, as in `GridPlace`) that stands for the place, -1 = all. */
export interface ChosenCell {
  readonly i: number;
  readonly j: number;
  readonly corner: number;
}

/**
 * The cell that the wall at a place (in steps of the grid) is read from: its own where that is whole; beside an opening the nearest
 * whole one on the same side, to go on from; else, as in a narrow pier or in the opening itself, the nearest node that is wall.
 */
export function chooseCell(ground: Ground, gx: number, gy: number): ChosenCell {
  const { nx, ny } = ground;
  const i = Math.min(Math.floor(gx), nx - 2);
  const j = Math.min(Math.floor(gy), ny - 2);
  if (isWhole(ground, i, j)) return { i, j, corner: -1 };
  let best: ChosenCell | null = null;
  let least = Infinity;
  for (let p = Math.max(0, i - 1); p <= Math.min(nx - 2, i + 1); p++)
    for (let q = Math.max(0, j - 1); q <= Math.min(ny - 2, j + 1); q++) {
      if (!isWhole(ground, p, q)) continue;
      const [x, y] = [Math.min(Math.max(gx, p), p + 1), Math.min(Math.max(gy, q), q + 1)];
      const square = (gx - x) ** 2 + (gy - y) ** 2;
      if (square >= least || !isInSight(ground, gx, gy, x, y)) continue;
      least = square;
      best = { i: p, j: q, corner: -1 };
    }
  return best ?? chooseNode(ground, gx, gy);
}

/** The nearest node of wall within two steps in sight of the place; where there is none, the nearest of all. */
function chooseNode(ground: Ground, gx: number, gy: number): ChosenCell {
  const { nx, ny } = ground;
  const found = findNode(ground, gx, gy, (i, j) => isInSight(ground, gx, gy, i, j), NEAR_STEPS);
  const { i, j } = found ?? findNode(ground, gx, gy, () => true) ?? { i: Math.round(gx), j: Math.round(gy) };
  const [left, low] = [Math.min(i, nx - 2), Math.min(j, ny - 2)];
  return { i: left, j: low, corner: i - left + 2 * (j - low) };
}

const NEAR_STEPS = 2;

function findNode(
  { nx, ny, wall }: Ground,
  gx: number,
  gy: number,
  suits: (i: number, j: number) => boolean,
  reachSteps = Infinity,
): { i: number; j: number } | null {
  let best: { i: number; j: number } | null = null;
  let least = reachSteps ** 2;
  for (let j = 0; j < ny; j++)
    for (let i = 0; i < nx; i++) {
      const square = (gx - i) ** 2 + (gy - j) ** 2;
      if (wall[j * nx + i] === 0 || square >= least || !suits(i, j)) continue;
      least = square;
      best = { i, j };
    }
  return best;
}

function isInSight({ openings, stepMm }: Ground, x0: number, y0: number, x1: number, y1: number): boolean {
  return !isCut(openings, x0 * stepMm, y0 * stepMm, x1 * stepMm, y1 * stepMm);
}
