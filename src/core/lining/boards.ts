import type { BoxHole, RevealBoard } from '../liningPlan.ts';
import type { Warning } from '../refusal.ts';
import type { Board } from '../results.ts';
import type { Lining, Opening, Wall, WallRect } from '../survey.ts';
import { boardedFrame, findBays, trimOpenings } from './bays.ts';
import type { LaidBoard } from './boards/layout.ts';
import { boardKgPerM2, boardM2, countPersons } from './boards/lifting.ts';
import { listStock } from './boards/pieceKind.ts';
import { listLooseItems } from './boards/planCutting.ts';
import { planReveals } from './boards/reveals.ts';
import { searchLayouts } from './boards/search.ts';
import type { LiningSettings } from './defaults.ts';
import { listKeptClear } from './keptClear.ts';
import type { Progress, ProgrammeSolver } from './programme.ts';
import { clipSides, coversSides, rectOf, sidesOf } from './rects.ts';

export interface BoardPlan {
  readonly boards: readonly Board[];
  readonly reveals: readonly RevealBoard[];
  readonly warnings: readonly Warning[];
}

/** Names of boards from the left: A, B, ... without I and O, which read as figures; AA after Z. */
function nameBoard(index: number): string {
  const letters = 'ABCDEFGHJKLMNPQRSTUVWXYZ';
  const letter = letters[index % letters.length]!;
  return index < letters.length ? letter : nameBoard(Math.floor(index / letters.length) - 1) + letter;
}

/** The boxes that come through a board, measured from its left edge and its lowest corner. */
function listHoles(rect: WallRect, wall: Wall, openings: readonly Opening[]): BoxHole[] {
  return wall.boxes.flatMap((box) => {
    const inside = clipSides(sidesOf(box), sidesOf(rect));
    if (!inside || openings.some((opening) => coversSides(sidesOf(opening), inside))) return [];
    const { along, up, width, height } = rectOf(inside);
    return [{ box: box.id, fromLeft: along - rect.along, fromBottom: up - rect.up, width, height }];
  });
}

/**
 * Upright boards over the lined part of the wall, from the left: joints kept clear of the corner lines of openings and of
 * boxes where that can be, no strip under the minimum where that can be, openings and boxes cut out, ends along a sloping
 * floor or ceiling; and the boards of reveals. Of layouts with as few faults and boards as the best it is the one that the
 * stock gives with the fewest stock boards and cuts, or the one that starts where the survey says. A board that an opening
 * cuts through becomes one above and one below. Where the stock is shorter than the wall by more than the floor gap can
 * take (`floor_gap_wide`), a cut piece goes on top, in every second column at the floor so that the level joints do not
 * meet, with the warning `board_too_short`. `sheet` and `edges` are `planCutting`'s to fill in.
 */
export function planBoards(
  wall: Wall,
  lining: Lining,
  settings: LiningSettings,
  solve: ProgrammeSolver,
  progress: Progress = () => undefined,
): BoardPlan {
  const stock = listStock(lining);
  const frame = boardedFrame(wall, settings, stock);
  const openings = trimOpenings(wall, frame, settings.leastPieceMm);
  const bays = findBays(frame, openings).map((sides) => ({
    sides,
    noJoint: listKeptClear(wall, openings, sides, 'along', settings),
  }));
  const reveals = planReveals(wall, lining, stock, settings);
  const ground = { wall, frame, openings, stock, settings };
  const further = listLooseItems(reveals, []);
  const layout = searchLayouts(bays, ground, lining.start ?? 'best', further, solve, progress);
  const kgPerM2 = boardKgPerM2(settings, lining.board.thickness);
  const finish = ({ rect, cutouts, outline }: LaidBoard, k: number): Board => {
    const massKg = boardM2({ ...rect, cutouts, outline }) * kgPerM2;
    return {
      id: nameBoard(k),
      ...rect,
      cutouts,
      outline,
      edges: { left: 'bound', right: 'bound' },
      holes: listHoles(rect, wall, openings),
      sheet: '',
      massKg,
      persons: countPersons(massKg, Math.max(rect.width, rect.height), settings),
    };
  };
  const narrow = layout.boards.flatMap(({ isNarrow }, k): Warning[] =>
    isNarrow ? [{ code: 'strip_narrow', subject: nameBoard(k) }] : [],
  );
  return { boards: layout.boards.map(finish), reveals, warnings: [...layout.warnings, ...narrow] };
}
