import { tradeDefaults } from '../../../src/core/lining/defaults.ts';
import type { LiningPlan, Surface } from '../../../src/core/results.ts';
import type { Survey, Wall, WallRect } from '../../../src/core/survey.ts';
import { checkBed } from './checkBed.ts';
import { fillNodes } from '../../../src/core/lining/nodeGrid.ts';
import { checkBoards } from './checkBoards.ts';
import { checkCutting } from './checkCutting.ts';
import { checkFixing } from './checkFixing.ts';
import { checkAdhesive, checkBatches } from './checkMixing.ts';
import { checkWork } from './checkWork.ts';

/** What must hold of every lining plan; returns each fault in words, [] for a sound plan. Reckons apart from src/. */
export function checkPlan(survey: Survey, surface: Surface, plan: LiningPlan): string[] {
  return [
    ...checkBed(survey, surface, plan, seeWall(survey.wall)),
    ...checkZones(survey, plan),
    ...checkBoards(survey, plan),
    ...checkCutting(survey, plan),
    ...checkScrews(survey, plan),
    ...checkFixing(survey, plan, fillNodes({ ...surface, values: plan.bed })),
    ...checkAdhesive(survey, plan),
    ...checkBatches(survey, plan),
    ...checkWork(survey, plan),
  ];
}

const isNear = (a: number, b: number, tolerance = 1e-6) => Math.abs(a - b) <= tolerance;
const say = (holds: boolean, fault: string) => (holds ? [] : [fault]);
const planeAt = ({ bedPlane: { p, q, r } }: LiningPlan, along: number, up: number) => p + q * along + r * up;
const gap = (name: keyof typeof tradeDefaults): number => tradeDefaults[name].value;

const sides = ({ along, up, width, height }: WallRect) => [along, along + width, up, up + height] as const;
const holds = (rect: WallRect, x: number, y: number, grow = 0) => {
  const [left, right, bottom, top] = sides(rect);
  return x > left - grow && x < right + grow && y > bottom - grow && y < top + grow;
};

/** Cells of the wall between all given sides: middle, size and area. */
function cutWall(wall: WallRect, rects: readonly WallRect[]) {
  const [left, right, bottom, top] = sides(wall);
  const sorted = (cuts: number[], from: number, to: number) =>
    [...new Set([from, to, ...cuts.filter((cut) => cut > from && cut < to)])].sort((a, b) => a - b);
  const xs = sorted(
    rects.flatMap((rect) => sides(rect).slice(0, 2)),
    left,
    right,
  );
  const ys = sorted(
    rects.flatMap((rect) => sides(rect).slice(2)),
    bottom,
    top,
  );
  return xs.slice(1).flatMap((x, i) =>
    ys.slice(1).map((y, j) => ({
      x: (x + xs[i]!) / 2,
      y: (y + ys[j]!) / 2,
      width: x - xs[i]!,
      height: y - ys[j]!,
      area: (x - xs[i]!) * (y - ys[j]!),
    })),
  );
}

/** Tells whether any wall lies at a spot: of the cells cut along all openings, one that is wall reaches it. */
function seeWall(wall: Wall): (along: number, up: number) => boolean {
  const cells = cutWall({ along: 0, up: 0, ...wall }, wall.openings).filter(
    ({ x, y }) => !wall.openings.some((each) => holds(each, x, y)),
  );
  return (along, up) =>
    cells.some(
      (cell) =>
        Math.abs(cell.x - Math.min(along, wall.width)) <= cell.width / 2 + 1e-9 &&
        Math.abs(cell.y - Math.min(up, wall.height)) <= cell.height / 2 + 1e-9,
    );
}

function checkZones({ wall }: Survey, { zones }: LiningPlan): string[] {
  const whole = { along: 0, up: 0, width: wall.width, height: wall.height };
  const lined = cutWall(whole, wall.openings).filter(
    ({ x, y }) => !wall.openings.some((each) => holds(each, x, y)),
  );
  const area = lined.reduce((sum, cell) => sum + cell.area, 0) / 1e6;
  const total = zones.reduce((sum, zone) => sum + zone.areaM2, 0);
  const shares = zones.reduce((sum, zone) => sum + zone.share, 0);
  return [
    ...say(zones.map(({ zone }) => zone).join() === 'thin,normal,packed,beyond', 'zones out of order'),
    ...say(isNear(total, area), `zones cover ${total} m2 of ${area}`),
    ...say(isNear(shares, 1, 1e-9), `zone shares sum to ${shares}`),
    ...say(
      isNear(
        zones.reduce((sum, zone) => sum + zone.expectedM2, 0),
        area,
      ),
      'areas to be expected do not sum to the wall',
    ),
    ...say(
      zones.every(({ areaM2 }) => areaM2 >= 0),
      'a zone has a negative area',
    ),
    ...say(isNear(zones[0]!.areaM2, 0), 'some of the bed is too thin'),
  ];
}

function checkScrews({ wall, lining }: Survey, plan: LiningPlan): string[] {
  const { boards, screws } = plan;
  const faults: string[] = [];
  for (const screw of screws) {
    const { id, along, up } = screw;
    const board = boards.find((each) => each.id === screw.board);
    const edge = gap('screwEdgeLeastMm');
    if (!board || !holds(board, along, up, -edge + 1e-3))
      faults.push(`screw ${id} is not well under its board`);
    if (board?.cutouts.some((cutout) => holds(cutout, along, up, edge - 1e-3)))
      faults.push(`screw ${id} is in or near a cut-out`);
    if (wall.openings.some((each) => holds(each, along, up, gap('screwOpeningClearMm') - 1e-3)))
      faults.push(`screw ${id} is near an opening`);
    if (wall.boxes.some((each) => holds(each, along, up, gap('screwBoxClearMm') - 1e-3)))
      faults.push(`screw ${id} is near a box`);
    if (!isNear(screw.fromLaser, -planeAt(plan, along, up)))
      faults.push(`screw ${id} is not on the bed plane`);
    if (!(screw.projection >= lining.bed.min - 1e-6))
      faults.push(`screw ${id} projects ${screw.projection} only`);
    if (screw.projection > plan.maxBedMm + 1e-6)
      faults.push(`screw ${id} projects more than the deepest bed`);
    if (!(screw.sigma >= 0)) faults.push(`screw ${id} has no sigma`);
    const { max, packedMax } = lining.bed;
    const zone =
      screw.projection <= max + 1e-6 ? 'normal' : screw.projection <= packedMax + 1e-6 ? 'packed' : 'beyond';
    if (zone !== screw.zone) faults.push(`screw ${id} is in zone ${zone}, not ${screw.zone}`);
  }
  for (const board of boards) {
    const own = screws.filter((screw) => screw.board === board.id);
    if (own.some((screw, k) => screw.id !== `${board.id}${k + 1}`))
      faults.push(`screws of ${board.id} misnumbered`);
    own.forEach((a, i) =>
      own.slice(i + 1).forEach((b) => {
        if (Math.hypot(a.along - b.along, a.up - b.up) < gap('screwApartMm') - 1e-6)
          faults.push(`screws ${a.id} and ${b.id} are too near`);
      }),
    );
    if (board.cutouts.length === 0 && board.width >= 300 && board.height >= 300 && own.length < 4)
      faults.push(`board ${board.id} hangs on ${own.length} screws`);
  }
  return [
    ...faults,
    ...say(new Set(screws.map(({ id }) => id)).size === screws.length, 'two screws of one name'),
  ];
}
