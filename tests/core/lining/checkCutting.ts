import type { CutPiece, StockSheet } from '../../../src/core/liningPlan.ts';
import type { Board, LiningPlan } from '../../../src/core/results.ts';
import type { Survey, WallRect } from '../../../src/core/survey.ts';

const close = 1e-6;
const isNear = (a: number, b: number, tolerance = close) => Math.abs(a - b) <= tolerance;

/** A rectangle on a stock board. */
type Part = readonly [left: number, right: number, bottom: number, top: number];
const ofPiece = ({ x, y, width, length }: CutPiece): Part => [x, x + width, y, y + length];
const ofRect = ({ along, up, width, height }: WallRect): Part => [along, along + width, up, up + height];

/** Whether straight cuts from edge to edge part a rectangle into just these parts. */
export function isGuillotine(parts: readonly Part[]): boolean {
  if (parts.length <= 1) return true;
  for (const [from, to] of [
    [0, 1],
    [2, 3],
  ] as const)
    for (const at of parts.map((part) => part[to])) {
      const before = parts.filter((part) => part[to] <= at + close);
      const after = parts.filter((part) => part[from] >= at - close);
      if (before.length + after.length !== parts.length || before.length === 0 || after.length === 0)
        continue;
      return isGuillotine(before) && isGuillotine(after);
    }
  return false;
}

function checkSheet({ id, width, length, pieces, offcuts, cuts }: StockSheet): string[] {
  const faults: string[] = [];
  const parts = [...pieces.map(ofPiece), ...offcuts.map(ofRect)];
  if (pieces.length === 0) faults.push(`nothing is cut from ${id}`);
  for (const [l, r, b, t] of parts)
    if (l < -close || b < -close || r > width + close || t > length + close || r <= l || t <= b)
      faults.push(`a part of ${id} is not on it`);
  parts.forEach((a, i) =>
    parts.slice(i + 1).forEach((b) => {
      const apart =
        a[1] <= b[0] + close || b[1] <= a[0] + close || a[3] <= b[2] + close || b[3] <= a[2] + close;
      if (!apart) faults.push(`two parts of ${id} overlap`);
    }),
  );
  const area = parts.reduce((sum, [l, r, b, t]) => sum + (r - l) * (t - b), 0);
  if (!isNear(area, width * length, 1)) faults.push(`the parts of ${id} do not make up its area`);
  if (!isGuillotine(parts)) faults.push(`${id} cannot be cut by straight cuts`);
  // Every cut makes two parts of one.
  if (cuts !== parts.length - 1) faults.push(`${id} takes ${parts.length - 1} cuts, not ${cuts}`);
  const areas = offcuts.map((offcut) => offcut.width * offcut.height);
  if (areas.some((area, k) => k > 0 && area > areas[k - 1]! + close))
    faults.push(`offcuts of ${id} are not largest first`);
  return faults;
}

/** Net area of a board (m2): its outline less its cut-outs, each spot counted once. */
function netM2(board: Board): number {
  const xs = [board.along, board.along + board.width];
  const ys = [board.up, board.up + board.height];
  for (const cutout of board.cutouts) {
    xs.push(cutout.along, cutout.along + cutout.width);
    ys.push(cutout.up, cutout.up + cutout.height);
  }
  const [across, upward] = [xs, ys].map((cuts) => [...new Set(cuts)].sort((a, b) => a - b)) as [
    number[],
    number[],
  ];
  let area = 0;
  across.slice(1).forEach((right, i) =>
    upward.slice(1).forEach((top, j) => {
      const [x, y] = [(right + across[i]!) / 2, (top + upward[j]!) / 2];
      const isOut = board.cutouts.some(
        (c) => x > c.along && x < c.along + c.width && y > c.up && y < c.up + c.height,
      );
      if (!isOut) area += (right - across[i]!) * (top - upward[j]!);
    }),
  );
  if (board.outline) {
    const twice = board.outline.reduce((sum, a, k) => {
      const b = board.outline![(k + 1) % board.outline!.length]!;
      return sum + a.along * b.up - b.along * a.up;
    }, 0);
    area -= board.width * board.height - twice / 2;
  }
  return area / 1e6;
}

function checkEdges(board: Board, piece: CutPiece, sheet: StockSheet): string[] {
  const touches = [piece.x <= close, piece.x + piece.width >= sheet.width - close];
  const [left, right] = piece.turn === 180 ? [touches[1], touches[0]] : touches;
  const isTrue =
    board.edges.left === (left ? 'bound' : 'cut') && board.edges.right === (right ? 'bound' : 'cut');
  return isTrue ? [] : [`the edges of board ${board.id} are not as it is cut`];
}

/** What must hold of a plan's cutting: every board, reveal board and packing strip is cut once, and the sums agree. */
export function checkCutting(survey: Survey, plan: LiningPlan): string[] {
  const { cutting, boards, reveals, packing, warnings } = plan;
  const { sheets } = cutting;
  const { board, stock = [] } = survey.lining;
  const faults = sheets.flatMap(checkSheet);
  const say = (holds: boolean, fault: string) => {
    if (!holds) faults.push(fault);
  };
  say(new Set(sheets.map(({ id }) => id)).size === sheets.length, 'two stock boards of one name');
  for (const sheet of sheets)
    say(
      [board, ...stock].some(({ width, length }) => width === sheet.width && length === sheet.length),
      `${sheet.id} is of no size on hand`,
    );
  const isOff = (id: string) =>
    warnings.some(({ code, subject }) => code === 'board_not_in_stock' && subject === id);
  const placed = sheets.flatMap((sheet) => sheet.pieces.map((piece) => ({ piece, sheet })));
  for (const each of boards) {
    const own = placed.filter(({ piece }) => piece.piece === each.id);
    if (own.length === 0 && isOff(each.id)) continue;
    const [first] = own;
    say(own.length === 1, `board ${each.id} is cut ${own.length} times`);
    if (!first) continue;
    say(
      isNear(first.piece.width, each.width) &&
        isNear(first.piece.length, each.height) &&
        first.piece.turn !== 90,
      `board ${each.id} is cut to a wrong size`,
    );
    say(each.sheet === first.sheet.id, `board ${each.id} is not from ${each.sheet}`);
    faults.push(...checkEdges(each, first.piece, first.sheet));
  }
  const isSize = ({ width, length, turn }: CutPiece, w: number, l: number) =>
    turn === 90 ? isNear(width, l) && isNear(length, w) : isNear(width, w) && isNear(length, l);
  for (const { id, width, length } of reveals) {
    const own = placed.filter(({ piece }) => piece.piece === id);
    if (own.length === 0 && isOff(id)) continue;
    say(
      own.length === 1 && isSize(own[0]!.piece, width, length),
      `reveal board ${id} is not cut once to its size`,
    );
  }
  const strips = placed.filter(({ piece }) => piece.piece === 'packing').map(({ piece }) => piece);
  if (!isOff('packing')) {
    say(
      strips.length === packing.cuts.reduce((sum, { count }) => sum + count, 0),
      `${strips.length} packing strips are cut`,
    );
    for (const { widthMm, lengthMm, count } of packing.cuts)
      say(
        strips.filter((strip) => isSize(strip, widthMm, lengthMm)).length >= count,
        `packing strips of ${widthMm} x ${lengthMm} are missing`,
      );
  }
  say(
    placed.length ===
      strips.length +
        [...boards, ...reveals].filter(({ id }) => placed.some(({ piece }) => piece.piece === id)).length,
    'something is cut that nobody needs',
  );
  const stockM2 = sheets.reduce((sum, { width, length }) => sum + (width * length) / 1e6, 0);
  const onWall =
    boards.reduce((sum, each) => sum + (isOff(each.id) ? 0 : netM2(each)), 0) +
    [...reveals.filter(({ id }) => !isOff(id)), ...strips].reduce(
      (sum, each) => sum + (each.width * each.length) / 1e6,
      0,
    );
  say(isNear(cutting.wasteShare, stockM2 > 0 ? 1 - onWall / stockM2 : 0), `waste of ${cutting.wasteShare}`);
  say(cutting.cuts === sheets.reduce((sum, { cuts }) => sum + cuts, 0), 'cuts do not sum');
  say(
    cutting.stock.reduce((sum, { count }) => sum + count, 0) === sheets.length &&
      cutting.stock.every(
        ({ width, length, count }) =>
          sheets.filter((sheet) => sheet.width === width && sheet.length === length).length === count,
      ),
    'the stock list is not of these sheets',
  );
  const areaLeast = placed.reduce((sum, { piece }) => sum + (piece.width * piece.length) / 1e6, 0);
  const largest = Math.max(board.width * board.length, ...stock.map((s) => s.width * s.length)) / 1e6;
  say(cutting.sheetsLeast >= areaLeast / largest - close, 'the least count of sheets is below their area');
  say(cutting.sheetsLeast <= sheets.length, 'more sheets are said to be needed than there are');
  say(cutting.proven === (cutting.sheetsLeast === sheets.length), 'proven does not say what was proven');
  return faults;
}
