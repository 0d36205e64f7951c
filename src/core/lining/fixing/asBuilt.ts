import type { AsBuilt, BoardAsBuilt, SetScrew } from '../../liningPlan.ts';
import type { Warning } from '../../refusal.ts';
import type { Board, GaugeScrew } from '../../results.ts';
import type { Lining } from '../../survey.ts';
import type { LiningSettings } from '../defaults.ts';
import { sidesOf } from '../rects.ts';
import type { ScrewGround } from '../screws.ts';
import { endsOver } from './boardFace.ts';
import { fitRests, measureTwist, offAt, restBoard, type Rest, type RestPlane } from './restPlane.ts';

type Worst = BoardAsBuilt['worst'];

/** A gauge screw that has been set: where its head is against the plan's plane. */
interface SetHead extends Rest {
  readonly screw: GaugeScrew;
}

/** Where a board on that plane comes nearer to the masonry than the least bed by more than the tolerance, and by how much; null = nowhere. */
function findBind(board: Board, plane: RestPlane, { bed, limits }: ScrewGround, toleranceMm: number): Worst {
  let worst: Worst = null;
  const { left, right } = sidesOf(board);
  const cutouts = board.cutouts.map(sidesOf);
  const { stepMm, nx, ny, values } = bed;
  for (let k = 0; k < nx * ny; k++) {
    const [along, up] = [(k % nx) * stepMm, Math.floor(k / nx) * stepMm];
    if (along < left || along > right) continue;
    const ends = endsOver(board, Math.max(left, along - 1e-3), Math.min(right, along + 1e-3));
    if (up < ends.bottom || up > ends.top) continue;
    if (cutouts.some((c) => along > c.left && along < c.right && up > c.bottom && up < c.top)) continue;
    // Where the plan itself asks for less than the least bed, that is what counts.
    const askedMm = Math.min(limits.min, values[k]!);
    const byMm = askedMm - values[k]! - offAt(plane, { along, up });
    if (byMm > toleranceMm + 1e-9 && byMm > (worst?.byMm ?? 0)) worst = { along, up, byMm };
  }
  return worst;
}

/** The head that stands furthest from the plane through all the others; the furthest out of those that do so alike. */
function findOutlier(heads: readonly SetHead[]): Worst {
  const away = heads.map((head) => head.offMm - offAt(fitRests(heads.filter((each) => each !== head)), head));
  const most = Math.max(...away.map(Math.abs));
  const alike = heads.filter((_, k) => Math.abs(away[k]!) > most - 1e-6);
  const out = alike.reduce((best, head) =>
    Math.abs(head.offMm) > Math.abs(best.offMm) + 1e-9 ? head : best,
  );
  return { along: out.along, up: out.up, byMm: away[heads.indexOf(out)]! };
}

/** What the heads set so far mean for their board; null where none of its screws is set. */
function judgeBoard(
  board: Board,
  screws: readonly GaugeScrew[],
  set: ReadonlyMap<string, number>,
  ground: ScrewGround,
  toleranceMm: number,
): BoardAsBuilt | null {
  const heads = screws
    .filter(({ id }) => set.has(id))
    .map((screw): SetHead => {
      const { id, along, up, projection } = screw;
      return { screw, along, up, offMm: set.get(id)! - projection };
    });
  if (heads.length === 0) return null;
  const open = screws.filter(({ id }) => !set.has(id));
  const isAsPlanned = heads.every(({ offMm }) => Math.abs(offMm) <= toleranceMm + 1e-9);
  const middle = { along: board.along + board.width / 2, up: board.up + board.height / 2 };
  const expected: RestPlane = isAsPlanned ? { offMm: 0, along: 0, up: 0 } : fitRests(heads);
  const bind = findBind(board, open.length > 0 ? expected : restBoard(heads, middle), ground, toleranceMm);
  const rocks = !isAsPlanned && measureTwist(heads) > toleranceMm + 1e-9;
  const next = open.map((screw) => {
    const atMm = screw.projection + offAt(expected, screw);
    return { screw: screw.id, least: atMm - toleranceMm, most: atMm + toleranceMm };
  });
  const furthest = heads.reduce((far, head) => (Math.abs(head.offMm) > Math.abs(far.offMm) ? head : far));
  const off = { along: furthest.along, up: furthest.up, byMm: furthest.offMm };
  const state = bind ? 'binds' : rocks ? 'rocks' : open.length > 0 ? 'open' : isAsPlanned ? 'good' : 'off';
  const worst = bind ?? (rocks ? findOutlier(heads) : isAsPlanned ? null : off);
  return { board: board.id, state, worst, next };
}

/**
 * What the gauge screws as set mean: of each how far it is off, and of each board that has some how it will lie. A board is rigid and
 * lies on its heads (`restBoard`); while some are still to come it is taken to lie in the plan's plane if those set are within
 * tolerance of it, else in the plane nearest to them, and that is where the others must stand, within tolerance.
 * Source: own method, DEVELOPERS.md, "Fixing".
 */
export function readAsBuilt(
  boards: readonly Board[],
  screws: readonly GaugeScrew[],
  ground: ScrewGround,
  { asBuilt = [] }: Pick<Lining, 'asBuilt'>,
  { screwToleranceMm }: Pick<LiningSettings, 'screwToleranceMm'>,
): AsBuilt {
  const set = new Map(asBuilt.map(({ screw, projection }) => [screw, projection]));
  const read = screws
    .filter(({ id }) => set.has(id))
    .map(({ id, projection }): SetScrew => {
      const offMm = set.get(id)! - projection;
      const withinTolerance = Math.abs(offMm) <= screwToleranceMm + 1e-9;
      return { screw: id, planned: projection, set: set.get(id)!, offMm, withinTolerance };
    });
  const judged = boards.map((board) => {
    const own = screws.filter((screw) => screw.board === board.id);
    return judgeBoard(board, own, set, ground, screwToleranceMm);
  });
  return { screws: read, boards: judged.filter((each) => each !== null) };
}

/** What to warn of in the screws as set: how many are out of tolerance, and each board that binds or rocks. */
export function warnOfAsBuilt({ screws, boards }: AsBuilt): Warning[] {
  const off = screws.filter(({ withinTolerance }) => !withinTolerance).length;
  const wrong = boards.filter(({ state }) => state === 'binds' || state === 'rocks');
  return [
    ...(off > 0 ? [{ code: 'screw_off', subject: 'wall', count: off } as const] : []),
    ...wrong.map(({ board }) => ({ code: 'board_binds', subject: board }) as const),
  ];
}
