import type { BedPlane, Board, GaugeScrew } from '../results.ts';
import type { Lining, Wall, WallRect, WallSpot } from '../survey.ts';
import { planeOut, zoneOf } from './bed.ts';
import { usualScrewLengthsMm, type LiningSettings } from './defaults.ts';
import { clipToBoard, endsOver } from './fixing/boardFace.ts';
import { findServices, ceilingOver } from './fixing/services.ts';
import { spaceColumns, spaceRows, type Insets } from './fixing/screwRows.ts';
import { sampleNodes, type NodeGrid } from './nodeGrid.ts';
import { growSides, sidesOf, type Sides } from './rects.ts';

/** What the screws are set by: bed depth and its sigma at the nodes (no NaN), and the plane their heads come to. */
export interface ScrewGround {
  readonly bed: NodeGrid;
  readonly sigma: NodeGrid;
  readonly plane: BedPlane;
  readonly limits: Lining['bed'];
}

const isInside = ({ along, up }: WallSpot, { left, right, bottom, top }: Sides) =>
  along > left && along < right && up > bottom && up < top;

/** Shifts to try, from none outwards, on a 10 mm lattice within a circle: up and down before sideways at one distance. */
function listShifts(mostMm: number): WallSpot[] {
  const shifts: WallSpot[] = [];
  const most = Math.floor(mostMm / 10);
  for (let i = -most; i <= most; i++)
    for (let j = -most; j <= most; j++) shifts.push({ along: 10 * i, up: 10 * j });
  const distance = ({ along, up }: WallSpot) => Math.hypot(along, up);
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

/** Where the rows and columns of a board's screws begin, clear of the adhesive at its ends and of the zones at the wall's ends. */
function findInsets(board: Board, wall: Wall, adhesive: readonly Sides[], settings: LiningSettings): Insets {
  const { screwEndMm, screwEdgeMm, dabEdgeMm, dabWidthLeastMm, screwDabClearMm, serviceZoneMm } = settings;
  const face = sidesOf(board);
  const row = dabEdgeMm + dabWidthLeastMm + screwDabClearMm;
  const isLong = ({ left, right }: Sides) => right - left > board.width / 2;
  const low = adhesive
    .filter((each) => isLong(each) && each.bottom < face.bottom + row)
    .map(({ top }) => top - face.bottom);
  const high = adhesive
    .filter((each) => isLong(each) && each.top > face.top - row)
    .map(({ bottom }) => face.top - bottom);
  const ceiling = ceilingOver(wall, (face.left + face.right) / 2);
  const zone = (gapMm: number) => (gapMm < serviceZoneMm ? Math.ceil(serviceZoneMm - gapMm) : 0);
  return {
    bottom: Math.max(screwEndMm, row, ...low.map((mm) => mm + screwDabClearMm)),
    top: Math.max(screwEndMm, row, zone(ceiling - face.top), ...high.map((mm) => mm + screwDabClearMm)),
    left: Math.max(screwEdgeMm, zone(face.left)),
    right: Math.max(screwEdgeMm, zone(wall.width - face.right)),
  };
}

/** What a screw keeps clear of: always; of adhesive and packing where it can; of services before that. */
interface Blocked {
  readonly always: readonly Sides[];
  readonly adhesive: readonly Sides[];
  readonly isAtServices: (spot: WallSpot) => boolean;
}

/** Places of one board's screws, on whole millimetres, from the bottom row up, each row from the left. */
function placeScrews(
  board: Board,
  insets: Insets,
  blocked: Blocked,
  shifts: readonly WallSpot[],
  settings: LiningSettings,
): WallSpot[] {
  const { screwEdgeLeastMm, screwApartMm } = settings;
  const isOnBoard = ({ along, up }: WallSpot) => {
    const spot = { left: along - 1e-6, right: along + 1e-6, bottom: up - 1e-6, top: up + 1e-6 };
    const inside = clipToBoard(board, spot, screwEdgeLeastMm);
    return inside !== null && inside.top - inside.bottom > 1e-6 && inside.right - inside.left > 1e-6;
  };
  const isClear = (spot: WallSpot) =>
    isOnBoard(spot) && !blocked.always.some((sides) => isInside(spot, sides));
  const isOffAdhesive = (spot: WallSpot) => !blocked.adhesive.some((sides) => isInside(spot, sides));
  const tiers: readonly ((spot: WallSpot) => boolean)[] = [
    (spot) => isOffAdhesive(spot) && !blocked.isAtServices(spot) && isClear(spot),
    (spot) => !blocked.isAtServices(spot) && isClear(spot),
    (spot) => isOffAdhesive(spot) && isClear(spot),
    isClear,
  ];
  const ends = board.outline ? endsOver(board, board.along, board.along + board.width) : null;
  const bottom = ends && ends.top > ends.bottom ? ends.bottom : board.up;
  const height = ends && ends.top > ends.bottom ? ends.top - ends.bottom : board.height;
  const rows = spaceRows(height, settings, insets);
  const columns = spaceColumns(board.width, settings, insets);
  const place = (inTurn: typeof tiers): WallSpot[] => {
    const placed: WallSpot[] = [];
    const isApart = (spot: WallSpot) =>
      !placed.some(({ along, up }) => Math.hypot(along - spot.along, up - spot.up) < screwApartMm - 1e-6);
    for (const row of rows) {
      for (const column of columns) {
        const [x, y] = [Math.round(board.along + column), Math.round(bottom + row)];
        const moved = shifts
          .map((by) => ({ along: x + by.along, up: y + by.up }))
          .filter((spot) => isApart(spot));
        const spot = inTurn.map((isFit) => moved.find(isFit)).find((each) => each !== undefined);
        if (spot) placed.push(spot);
      }
    }
    return placed;
  };
  // screws that crowd in what is left beside services may leave no room for all: then they stay where they are, marked
  const aside = place(tiers);
  if (aside.length === rows.length * columns.length) return aside;
  const marked = place(tiers.slice(2));
  return marked.length > aside.length ? marked : aside;
}

/**
 * The shortest screw on hand (mm) that stands out of the wall by `projectionMm` with its plug's length in it; null where none does.
 * Source: plug lengths, common practice, no source.
 * @example pickLength(18, 40, [50, 60, 80]) // 60
 * @example pickLength(50, 40, [50, 60, 80]) // null
 */
export function pickLength(
  projectionMm: number,
  plugMm: number,
  lengthsMm: readonly number[],
): number | null {
  const long = lengthsMm.filter((each) => each >= projectionMm + plugMm - 1e-9);
  return long.length > 0 ? Math.min(...long) : null;
}

/**
 * Gauge screws under every board, in the order of work: board by board from the left, rows from the bottom, each row from the left. A
 * screw that would stand in or too near an opening, a box or an edge is moved the shortest way, or left out where nothing near is
 * clear. It is moved likewise out of where cables or pipes are likely, and off the strips of adhesive and packing; where only one of
 * the two can be it is the former, and where it cannot be, `services` says what is there. Dabs are laid round the screws afterwards.
 * `projection` is the bed depth at the screw, not rounded. `adhesive`: by board, the strips and packing to keep clear of.
 * Source: rows of 2-3 per board, rows 500-600 mm apart: common practice, no source.
 */
export function planScrews(
  boards: readonly Board[],
  wall: Wall,
  ground: ScrewGround,
  settings: LiningSettings,
  adhesive: ReadonlyMap<string, readonly Sides[]> = new Map(),
  lengthsMm: readonly number[] = usualScrewLengthsMm,
): GaugeScrew[] {
  const grow = (rects: readonly WallRect[], by: number) =>
    rects.map((rect) => growSides(sidesOf(rect), by - 1e-6));
  const kept = [
    ...grow(wall.openings, settings.screwOpeningClearMm),
    ...grow(wall.boxes, settings.screwBoxClearMm),
  ];
  const shifts = listShifts(settings.screwShiftMm);
  return boards.flatMap((board) => {
    const own = adhesive.get(board.id) ?? [];
    const blocked: Blocked = {
      always: [...kept, ...grow(board.cutouts, settings.screwEdgeLeastMm)],
      adhesive: own.map((sides) => growSides(sides, settings.screwDabClearMm - 1e-6)),
      isAtServices: (spot) => findServices(spot, wall, settings) !== null,
    };
    const insets = findInsets(board, wall, own, settings);
    return placeScrews(board, insets, blocked, shifts, settings).map(({ along, up }, k): GaugeScrew => {
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
        screwMm: pickLength(projection, settings.plugLengthMm, lengthsMm),
        services: findServices({ along, up }, wall, settings),
      };
    });
  });
}
