import { tradeDefaults } from '../../../src/core/lining/defaults.ts';
import type { Board, LiningPlan } from '../../../src/core/results.ts';
import type { Survey, WallRect, WallSpot } from '../../../src/core/survey.ts';

const close = 1e-6;

const sides = ({ along, up, width, height }: WallRect) => [along, along + width, up, up + height] as const;
const holds = (rect: WallRect, x: number, y: number, grow = 0) => {
  const [left, right, bottom, top] = sides(rect);
  return x > left - grow && x < right + grow && y > bottom - grow && y < top + grow;
};

/** A setting of the survey, or the trade's figure. */
export const settingOf = ({ lining }: Survey, name: keyof typeof tradeDefaults): number =>
  lining.settings?.[name] ?? tradeDefaults[name].value;

const sizesOf = ({ lining: { board, stock = [] } }: Survey) => [board, ...stock];

/** Height of a floor or ceiling at a place: straight between its spots, level beyond. */
function lineAt(spots: readonly WallSpot[] | undefined, level: number, x: number): number {
  const sorted = [...(spots ?? [])].sort((a, b) => a.along - b.along);
  if (sorted.length === 0) return level;
  let [before, after] = [sorted[0]!, sorted.at(-1)!];
  for (const spot of sorted) {
    if (spot.along <= x) before = spot;
    if (spot.along >= x && after.along >= spot.along) after = spot;
  }
  if (x <= sorted[0]!.along) return sorted[0]!.up;
  if (x >= sorted.at(-1)!.along) return sorted.at(-1)!.up;
  const share = after.along === before.along ? 0 : (x - before.along) / (after.along - before.along);
  return before.up + share * (after.up - before.up);
}

/** Stretches of board on the plumb line at `x`: its outline crossed, or its rectangle. */
function stretchesAt(board: Board, x: number): [number, number][] {
  if (x <= board.along || x >= board.along + board.width) return [];
  if (!board.outline) return [[board.up, board.up + board.height]];
  const crossed = board.outline.flatMap((a, k) => {
    const b = board.outline![(k + 1) % board.outline!.length]!;
    const crosses = a.along < x !== b.along < x;
    return crosses ? [a.up + ((x - a.along) / (b.along - a.along)) * (b.up - a.up)] : [];
  });
  const ups = crossed.sort((a, b) => a - b);
  return ups.flatMap((up, k): [number, number][] => (k % 2 === 0 ? [[up, ups[k + 1]!]] : []));
}

const isBoardAt = (board: Board, x: number, y: number) =>
  stretchesAt(board, x).some(([from, to]) => y > from && y < to) &&
  !board.cutouts.some((cutout) => holds(cutout, x, y));

function checkShapes(survey: Survey, boards: readonly Board[]): string[] {
  const faults: string[] = [];
  for (const board of boards) {
    const [l, r, b, t] = sides(board);
    if (l < -close || r > survey.wall.width + close) faults.push(`board ${board.id} reaches outside`);
    if (!sizesOf(survey).some((s) => board.width <= s.width + close && board.height <= s.length + close))
      faults.push(`board ${board.id} is larger than the stock`);
    for (const cutout of board.cutouts) {
      const [cl, cr, cb, ct] = sides(cutout);
      if (cl < l - close || cr > r + close || cb < b - close || ct > t + close || cr <= cl || ct <= cb)
        faults.push(`a cut-out of board ${board.id} is not in it`);
    }
    for (const hole of board.holes) {
      const [hl, hb] = [board.along + hole.fromLeft, board.up + hole.fromBottom];
      const box = survey.wall.boxes.find(({ id }) => id === hole.box);
      if (
        !box ||
        !holds(box, hl + hole.width / 2, hb + hole.height / 2) ||
        hole.fromLeft < 0 ||
        hole.fromBottom < 0
      )
        faults.push(`the hole for ${hole.box} in board ${board.id} is not at its box`);
    }
    if (!board.outline) continue;
    const [xs, ys] = [board.outline.map(({ along }) => along), board.outline.map(({ up }) => up)];
    const round = [Math.min(...xs) - l, Math.max(...xs) - r, Math.min(...ys) - b, Math.max(...ys) - t];
    if (round.some((off) => Math.abs(off) > close))
      faults.push(`the rectangle of board ${board.id} is not round its outline`);
  }
  return faults;
}

/** Every spot of the wall between floor and ceiling gap is under one board, but for openings, boxes and what is too small to board. */
function checkCover(survey: Survey, { boards, warnings }: LiningPlan): string[] {
  const { wall } = survey;
  const [floorGap, ceilingGap] = [settingOf(survey, 'floorGapMm'), settingOf(survey, 'ceilingGapMm')];
  const [least, most] = [settingOf(survey, 'leastPieceMm'), settingOf(survey, 'floorGapMostMm')];
  const isLevel = !wall.floor?.length && !wall.ceiling?.length;
  const longest = Math.max(...sizesOf(survey).map(({ length }) => length));
  const short = wall.height - ceilingGap - floorGap - longest;
  const hidden = isLevel && short > 0 && floorGap + short <= most ? short : 0;
  const bottomAt = (x: number) => lineAt(wall.floor, 0, x) + floorGap + hidden;
  const topAt = (x: number) => lineAt(wall.ceiling, wall.height, x) - ceilingGap;
  const mayGape = warnings.some(({ code }) => code === 'floor_gap_wide') ? Math.max(0, most - floorGap) : 0;
  const faults: string[] = [];
  const xs = [
    0,
    wall.width,
    ...[...boards, ...boards.flatMap(({ cutouts }) => cutouts), ...wall.openings, ...wall.boxes].flatMap(
      (rect) => sides(rect).slice(0, 2),
    ),
    ...[
      ...(wall.floor ?? []),
      ...(wall.ceiling ?? []),
      ...boards.flatMap(({ outline }) => outline ?? []),
    ].map(({ along }) => along),
  ].filter((x) => x >= 0 && x <= wall.width);
  const places = [...new Set(xs)].sort((a, b) => a - b);
  places.slice(1).forEach((right, k) => {
    const left = places[k]!;
    if (right - left < 2e-3) return;
    for (const share of isLevel ? [0.5] : [0.17, 0.5, 0.83]) {
      const x = left + share * (right - left);
      const [bottom, top] = [bottomAt(x), topAt(x)];
      const isSliver = (y: number) =>
        wall.openings.some((each) => {
          const [l, r, b, t] = sides(each);
          const [lo, hi] = [Math.max(0, l), Math.min(wall.width, r)];
          const spots = [...(wall.floor ?? []), ...(wall.ceiling ?? [])].map(({ along }) => along);
          const span = [lo, hi, ...spots.filter((at) => at > lo && at < hi)];
          const [floor, ceiling] = [Math.min(...span.map(bottomAt)), Math.max(...span.map(topAt))];
          if (r <= 0 || l >= wall.width || t <= floor || b >= ceiling) return false;
          return (
            (l < least && x < l && y > b && y < t) ||
            (wall.width - r < least && x > r && y > b && y < t) ||
            (b - floor < least && y < b && x > l && x < r) ||
            (ceiling - t < least && y > t && x > l && x < r) ||
            // corners between two such strips
            (holds(each, x, y, least) &&
              (x < least || wall.width - x < least) &&
              (y - floor < least || ceiling - y < least))
          );
        });
      const ups = [
        bottom,
        top,
        ...[...boards.flatMap(({ cutouts }) => cutouts), ...wall.openings, ...wall.boxes].flatMap((rect) =>
          sides(rect).slice(2),
        ),
        ...boards.flatMap((board) => stretchesAt(board, x).flat()),
      ].sort((a, b) => a - b);
      ups.slice(1).forEach((over, j) => {
        const under = ups[j]!;
        if (over - under < 1e-3) return;
        const y = (under + over) / 2;
        const covering = boards.filter((board) => isBoardAt(board, x, y)).length;
        const isBare =
          wall.openings.some((each) => holds(each, x, y)) || wall.boxes.some((each) => holds(each, x, y));
        const isOut = y < bottom || y > top;
        const at = `${x.toFixed(1)}, ${y.toFixed(1)}`;
        if (isOut && covering > 0) faults.push(`a board reaches outside at ${at}`);
        if (isBare && covering > 0) faults.push(`board over an opening or box at ${at}`);
        if (!isBare && covering > 1) faults.push(`${covering} boards at ${at}`);
        const mayBeBare = isOut || isBare || isSliver(y) || (!isLevel && y < bottom + mayGape);
        if (!mayBeBare && covering === 0) faults.push(`no board at ${at}`);
      });
    }
  });
  return faults;
}

/** What must hold of a plan's boards: shape, cover, names, mass and who lifts them. */
export function checkBoards(survey: Survey, plan: LiningPlan): string[] {
  const { boards } = plan;
  const faults = [...checkShapes(survey, boards), ...checkCover(survey, plan)];
  if (new Set(boards.map(({ id }) => id)).size !== boards.length) faults.push('two boards of one name');
  for (const { id, massKg, persons, width, height } of boards) {
    const heavy = massKg > settingOf(survey, 'liftAloneKg');
    const long = Math.max(width, height) > settingOf(survey, 'liftAloneMm');
    if (!(massKg > 0)) faults.push(`board ${id} has a mass of ${massKg}`);
    if (persons !== (heavy || long ? 2 : 1)) faults.push(`board ${id} is for ${persons} persons`);
  }
  return faults;
}
