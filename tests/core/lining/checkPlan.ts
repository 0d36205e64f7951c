import { tradeDefaults } from '../../../src/core/lining/defaults.ts';
import type { Board, LiningPlan, Surface } from '../../../src/core/results.ts';
import type { Survey, Wall, WallRect } from '../../../src/core/survey.ts';

/** What must hold of every lining plan; returns each fault in words, [] for a sound plan. Reckons apart from src/. */
export function checkPlan(survey: Survey, surface: Surface, plan: LiningPlan): string[] {
  return [
    ...checkBed(survey, surface, plan),
    ...checkZones(survey, plan),
    ...checkBoards(survey, plan.boards),
    ...checkScrews(survey, plan),
    ...checkAdhesive(survey, plan),
  ];
}

const isNear = (a: number, b: number, tolerance = 1e-6) => Math.abs(a - b) <= tolerance;
const say = (holds: boolean, fault: string) => (holds ? [] : [fault]);
const planeAt = ({ bedPlane: { p, q, r } }: LiningPlan, along: number, up: number) => p + q * along + r * up;
const gap = (name: keyof typeof tradeDefaults): number => tradeDefaults[name].value;

function checkBed(survey: Survey, surface: Surface, plan: LiningPlan): string[] {
  const { nx, stepMm, out } = surface;
  const { min } = survey.lining.bed;
  const isWall = seeWall(survey.wall);
  const faults: string[] = [];
  const known: { along: number; bed: number }[] = [];
  out.forEach((wallOut, k) => {
    const along = (k % nx) * stepMm;
    const up = Math.floor(k / nx) * stepMm;
    const bed = isWall(along, up) ? planeAt(plan, along, up) - wallOut : NaN;
    if (!Object.is(Number.isNaN(bed), Number.isNaN(plan.bed[k]!)))
      faults.push(`bed at node ${k} is not where wall is`);
    if (Number.isNaN(bed)) return;
    known.push({ along, bed });
    if (!isNear(bed, plan.bed[k]!)) faults.push(`bed at node ${k}: expected ${bed}, got ${plan.bed[k]}`);
    if (bed < min - 1e-6) faults.push(`bed at node ${k} is ${bed}, under ${min}`);
  });
  const mean = known.reduce((sum, { bed }) => sum + bed, 0) / known.length;
  const middle = known.reduce((sum, { along }) => sum + along, 0) / known.length;
  const touching = known.filter(({ bed }) => bed < min + 1e-6).map(({ along }) => along);
  return [
    ...faults,
    ...say(isNear(mean, plan.meanBedMm), `mean bed: expected ${mean}, got ${plan.meanBedMm}`),
    ...say(isNear(Math.max(...known.map(({ bed }) => bed)), plan.maxBedMm), 'max bed'),
    ...say(plan.bedPlane.r === 0, 'the bed plane leans'),
    // Optimal in p and q: the plane rests on the wall on both sides of the middle, or right there.
    ...say(
      Math.min(...touching) <= middle + 1e-6 && Math.max(...touching) >= middle - 1e-6,
      'plane is not optimal',
    ),
    ...say(plan.highPoints.length > 0, 'no high point'),
    ...say(plan.highPoints.includes(plan.highPoint), 'the high point is not among the high points'),
    ...plan.highPoints.flatMap((point) => [
      ...say(isNear(point.bed, min), `high point with a bed of ${point.bed}`),
      ...say(
        isNear(
          planeAt(plan, point.along, point.up) - point.out,
          point.bed,
          1e-6 + stepMm * Math.abs(plan.bedPlane.q),
        ),
        'high point off the plane',
      ),
      ...say(isWall(point.along, point.up), 'high point off the wall'),
      ...say(point.out <= plan.highPoint.out, 'another high point stands further out'),
    ]),
  ];
}

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
      zones.every(({ areaM2 }) => areaM2 >= 0),
      'a zone has a negative area',
    ),
    ...say(isNear(zones[0]!.areaM2, 0), 'some of the bed is too thin'),
  ];
}

const isBoard = (board: Board, x: number, y: number) =>
  holds(board, x, y) && !board.cutouts.some((cutout) => holds(cutout, x, y));

function checkBoards({ wall, lining }: Survey, boards: readonly Board[]): string[] {
  const short = wall.height - gap('ceilingGapMm') - gap('floorGapMm') - lining.board.length;
  const hidden = short > 0 && gap('floorGapMm') + short <= gap('floorGapMostMm') ? short : 0;
  const frame = {
    along: 0,
    up: gap('floorGapMm') + hidden,
    width: wall.width,
    height: wall.height - gap('ceilingGapMm') - gap('floorGapMm') - hidden,
  };
  const [left, right, bottom, top] = sides(frame);
  const faults: string[] = [];
  for (const board of boards) {
    const [l, r, b, t] = sides(board);
    if (l < left - 1e-6 || r > right + 1e-6 || b < bottom - 1e-6 || t > top + 1e-6)
      faults.push(`board ${board.id} reaches outside`);
    if (board.width > lining.board.width + 1e-6 || board.height > lining.board.length + 1e-6)
      faults.push(`board ${board.id} is larger than the stock`);
    for (const cutout of board.cutouts) {
      const [cl, cr, cb, ct] = sides(cutout);
      if (cl < l - 1e-6 || cr > r + 1e-6 || cb < b - 1e-6 || ct > t + 1e-6 || cr <= cl || ct <= cb)
        faults.push(`a cut-out of board ${board.id} is not in it`);
    }
  }
  const rects = [...boards, ...boards.flatMap((board) => board.cutouts), ...wall.openings, ...wall.boxes];
  // A strip between an opening and the frame's edge that is too small to board may stay bare.
  const least = gap('leastPieceMm');
  const isSliver = (x: number, y: number) =>
    wall.openings.some((each) => {
      const [l, r, b, t] = sides(each);
      if (r <= left || l >= right || t <= bottom || b >= top) return false;
      return (
        (l - left < least && x < l && y > b && y < t) ||
        (right - r < least && x > r && y > b && y < t) ||
        (b - bottom < least && y < b && x > l && x < r) ||
        (top - t < least && y > t && x > l && x < r) ||
        // corners between two such strips
        (holds({ ...each, width: each.width }, x, y, least) &&
          (x - left < least || right - x < least) &&
          (y - bottom < least || top - y < least))
      );
    });
  for (const { x, y, area } of cutWall(frame, rects)) {
    const covering = boards.filter((board) => isBoard(board, x, y)).length;
    const isBare =
      wall.openings.some((each) => holds(each, x, y)) || wall.boxes.some((each) => holds(each, x, y));
    if (isBare && covering > 0) faults.push(`board over an opening or box at ${x}, ${y}`);
    if (!isBare && covering > 1) faults.push(`${covering} boards at ${x}, ${y}`);
    if (!isBare && covering === 0 && !isSliver(x, y) && area > 1e-3) faults.push(`no board at ${x}, ${y}`);
  }
  return [
    ...faults,
    ...say(new Set(boards.map(({ id }) => id)).size === boards.length, 'two boards of one name'),
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

function checkAdhesive({ lining }: Survey, { adhesive, boards, maxBedMm }: LiningPlan): string[] {
  const { perBoard } = adhesive;
  const sum = (of: (mix: (typeof perBoard)[number]) => number) =>
    perBoard.reduce((total, mix) => total + of(mix), 0);
  const faults: string[] = [];
  perBoard.forEach((mix, k) => {
    const board = boards[k];
    if (!board) return;
    const cells = cutWall(board, board.cutouts).filter(({ x, y }) => isBoard(board, x, y));
    const area = cells.reduce((total, cell) => total + cell.area, 0) / 1e6;
    const share = mix.volumeL / (mix.areaM2 * adhesive.coverage);
    if (mix.board !== board.id) faults.push(`mix ${k} is for ${mix.board}, not ${board.id}`);
    if (!isNear(mix.areaM2, area)) faults.push(`board ${board.id} has ${area} m2, not ${mix.areaM2}`);
    if (mix.meanBedMm < lining.bed.min - 1e-6 || mix.meanBedMm > maxBedMm + 1e-6)
      faults.push(`board ${board.id} has a mean bed of ${mix.meanBedMm}`);
    if (share < lining.bed.min - 1e-6 || share > mix.meanBedMm + 1e-6)
      faults.push(`board ${board.id} is bedded ${share} mm deep on a bed of ${mix.meanBedMm}`);
    if (mix.powderKg / mix.mixes > gap('mixMostKg') + 1e-6) faults.push(`a mix for ${board.id} is too large`);
    if (mix.dabs.count * mix.dabs.volumeL > mix.volumeL + 1e-9)
      faults.push(`dabs of ${board.id} outweigh its mix`);
  });
  const powder = adhesive.volumeL * gap('powderKgPerL') * (1 + adhesive.wasteShare);
  return [
    ...faults,
    ...say(perBoard.length === boards.length, 'not one mix per board'),
    ...say(
      isNear(
        sum((mix) => mix.volumeL),
        adhesive.volumeL,
      ),
      'volumes do not sum',
    ),
    ...say(isNear(powder, adhesive.powderKg), `powder: expected ${powder}, got ${adhesive.powderKg}`),
    ...say(isNear(adhesive.powderKg * gap('waterLPerKg'), adhesive.waterL), 'water'),
    ...say(sum((mix) => mix.mixes) === adhesive.mixes, 'mixes do not sum'),
    ...say(adhesive.bags * adhesive.bagKg >= adhesive.powderKg - 1e-6, 'too few bags'),
    ...say((adhesive.bags - 1) * adhesive.bagKg < adhesive.powderKg, 'too many bags'),
  ];
}
