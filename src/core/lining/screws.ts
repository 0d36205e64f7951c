import type { BedPlane, Board, GaugeScrew } from '../results.ts';
import type { Lining, Wall, WallRect } from '../survey.ts';
import { planeOut, zoneOf } from './bed.ts';
import type { LiningSettings } from './defaults.ts';
import { sampleNodes, type NodeGrid } from './nodeGrid.ts';
import { growSides, sidesOf, type Sides } from './rects.ts';

/** What the screws are set by: bed depth and its sigma at the nodes (no NaN), and the plane their heads come to. */
export interface ScrewGround {
  readonly bed: NodeGrid;
  readonly sigma: NodeGrid;
  readonly plane: BedPlane;
  readonly limits: Lining['bed'];
}

interface Spot {
  readonly along: number;
  readonly up: number;
}

/** `count` places from `first` to `last`, evenly. */
const spaceOut = (first: number, last: number, count: number) =>
  Array.from({ length: count }, (_, i) =>
    count === 1 ? (first + last) / 2 : first + ((last - first) * i) / (count - 1),
  );

/**
 * Columns of gauge screws across a board of that width (mm from its left edge): near both edges, and between so that none
 * are further apart than the settings say.
 */
export function spaceColumns(widthMm: number, settings: LiningSettings): number[] {
  const { screwEdgeMm, screwEdgeLeastMm, screwApartMm, screwColumnMm } = settings;
  if (widthMm < 2 * screwEdgeLeastMm) return [];
  const between = widthMm - 2 * screwEdgeMm;
  if (between < screwApartMm) return [widthMm / 2];
  return spaceOut(screwEdgeMm, widthMm - screwEdgeMm, Math.ceil(between / screwColumnMm - 1e-9) + 1);
}

/**
 * Rows of gauge screws up a board of that height (mm from its bottom edge): 500-600 mm apart where the height allows it,
 * with the usual distance left at the ends; less at the ends where only that keeps the rows apart.
 */
export function spaceRows(heightMm: number, settings: LiningSettings): number[] {
  const { screwEdgeMm, screwEdgeLeastMm, screwApartMm, screwRowLeastMm, screwRowMostMm } = settings;
  if (heightMm < 2 * screwEdgeLeastMm) return [];
  if (heightMm < 2 * screwEdgeMm + screwApartMm) return [heightMm / 2];
  const gaps = Math.max(1, Math.ceil((heightMm - 2 * settings.screwEndMostMm) / screwRowMostMm - 1e-9));
  const usual = Math.min(screwRowMostMm, (heightMm - 2 * settings.screwEndMm) / gaps);
  const apart = Math.max(usual, Math.min(screwRowLeastMm, (heightMm - 2 * screwEdgeMm) / gaps));
  const inset = (heightMm - gaps * apart) / 2;
  return spaceOut(inset, heightMm - inset, gaps + 1);
}

const isInside = ({ along, up }: Spot, { left, right, bottom, top }: Sides) =>
  along > left && along < right && up > bottom && up < top;

/** Shifts to try, from none outwards, on a 10 mm lattice within a circle: up and down before sideways at one distance. */
function listShifts(mostMm: number): Spot[] {
  const shifts: Spot[] = [];
  const most = Math.floor(mostMm / 10);
  for (let i = -most; i <= most; i++)
    for (let j = -most; j <= most; j++) shifts.push({ along: 10 * i, up: 10 * j });
  const distance = ({ along, up }: Spot) => Math.hypot(along, up);
  return shifts
    .filter((shift) => distance(shift) <= mostMm)
    .sort(
      (a, b) =>
        distance(a) - distance(b) ||
        Math.abs(a.along) - Math.abs(b.along) ||
        b.up - a.up ||
        b.along - a.along,
    );
}

/** Places of one board's screws, on whole millimetres, from the bottom row up, each row from the left. */
function placeScrews(
  board: Board,
  blocked: readonly Sides[],
  shifts: readonly Spot[],
  settings: LiningSettings,
): Spot[] {
  const edge = growSides(sidesOf(board), -settings.screwEdgeLeastMm + 1e-6);
  const rows = spaceRows(board.height, settings).map((up) => board.up + up);
  const columns = spaceColumns(board.width, settings).map((along) => board.along + along);
  const placed: Spot[] = [];
  const isClear = (spot: Spot) =>
    isInside(spot, edge) &&
    !blocked.some((sides) => isInside(spot, sides)) &&
    !placed.some(({ along, up }) => Math.hypot(along - spot.along, up - spot.up) < settings.screwApartMm);
  for (const up of rows) {
    for (const along of columns) {
      const shift = shifts.find((by) =>
        isClear({ along: Math.round(along) + by.along, up: Math.round(up) + by.up }),
      );
      if (shift) placed.push({ along: Math.round(along) + shift.along, up: Math.round(up) + shift.up });
    }
  }
  return placed;
}

/**
 * Gauge screws under every board, in the order of work: board by board from the left, rows from the bottom, each row from
 * the left. A screw that would stand in or too near an opening, a box or an edge is moved the shortest way, or left out
 * where nothing near is clear. `projection` is the bed depth at the screw, not rounded.
 * Source: rows of 2-3 per board, rows 500-600 mm apart: common practice, no source.
 */
export function planScrews(
  boards: readonly Board[],
  wall: Wall,
  ground: ScrewGround,
  settings: LiningSettings,
): GaugeScrew[] {
  const grow = (rects: readonly WallRect[], by: number) =>
    rects.map((rect) => growSides(sidesOf(rect), by - 1e-6));
  const kept = [
    ...grow(wall.openings, settings.screwOpeningClearMm),
    ...grow(wall.boxes, settings.screwBoxClearMm),
  ];
  const shifts = listShifts(settings.screwShiftMm);
  return boards.flatMap((board) => {
    const blocked = [...kept, ...grow(board.cutouts, settings.screwEdgeLeastMm)];
    return placeScrews(board, blocked, shifts, settings).map(({ along, up }, k): GaugeScrew => {
      const projection = sampleNodes(ground.bed, along, up);
      return {
        id: `${board.id}${k + 1}`,
        board: board.id,
        along,
        up,
        projection,
        sigma: sampleNodes(ground.sigma, along, up),
        fromLaser: 0 - planeOut(ground.plane, along, up),
        zone: zoneOf(projection, ground.limits),
        screwMm: null,
        services: null,
      };
    });
  });
}
