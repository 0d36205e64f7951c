import type { Lining } from '../../survey.ts';
import { listRuns, placeJoints, type BoardRun } from '../joints.ts';
import type { KeptClear } from '../keptClear.ts';
import type { Progress, ProgrammeSolver } from '../programme.ts';
import type { Sides } from '../rects.ts';
import { boundSheets } from './bound.ts';
import { cutItems, isBefore, rankCutting, type CutEffort } from './cutting.ts';
import { listBoardItems } from './joins.ts';
import { layBoards, type Layout, type LayoutGround } from './layout.ts';
import { closeMm, fitsSize, groupItems, type CutItem } from './pieceKind.ts';
import { boundRank } from './rankBound.ts';

/** A stretch of the wall to board, with what its joints keep clear of. */
export interface Bay {
  readonly sides: Sides;
  readonly noJoint: readonly KeptClear[];
}

/** How hard to try: runs to list for a bay, layouts to lay out, and layouts to cut. */
const runsMost = 300;
const stripsMost = 12;
const layoutsMost = 400;
const cuttingsMost = 24;
const efforts: readonly CutEffort[] = [{ choicesMost: 200, nodesMost: 20 }];

type Start = NonNullable<Lining['start']>;

const preferOf = { left: 'late', right: 'early', balanced: 'balanced' } as const;

/** The run of boards of a bay: its stock the sizes that reach up it, or the longest where none does. */
function makeRun({ sides, noJoint }: Bay, { frame, stock, settings }: LayoutGround): BoardRun {
  const heightMm = Math.min(frame.top - frame.bottom, Math.max(...stock.map(({ length }) => length)));
  const reach = stock.filter(({ length }) => length >= heightMm - closeMm).map(({ width }) => width);
  const boardMm = Math.max(...reach);
  return {
    from: sides.left,
    to: sides.right,
    boardMm,
    uncutMm: reach,
    minStripMm: Math.min(settings.minStripMm, boardMm / 2),
    noJoint,
    prefer: 'balanced',
  };
}

/** Joints to try for a bay, the usual ones first, then all as good while they are few. */
function listTrials(run: BoardRun): number[][] {
  const usual = (['balanced', 'late', 'early'] as const).map((prefer) => placeJoints({ ...run, prefer }));
  const all = [...usual, ...(listRuns(run, runsMost) ?? [])];
  const names = all.map((joints) => joints.map((joint) => joint.toFixed(4)).join());
  return all.filter((_, k) => names.indexOf(names[k]!) === k);
}

/** Widths of the cut strips of a run that would just fill a board of it with one of these strips. */
function completeStrips({ from, to, boardMm }: BoardRun, trials: readonly (readonly number[])[]): number[] {
  const widths = trials.flatMap((joints) =>
    [...joints, to]
      .map((joint, k) => joint - (joints[k - 1] ?? from))
      .filter((width) => width < boardMm - closeMm),
  );
  const sorted = widths
    .sort((a, b) => a - b)
    .filter((width, k) => k === 0 || width - widths[k - 1]! > closeMm);
  return sorted.slice(0, stripsMost).map((width) => boardMm - width);
}

/** Joints to try for each bay; of several bays also strips that make up a whole board with one of another bay. */
function listAllTrials(bays: readonly Bay[], ground: LayoutGround, start: Start): number[][][] {
  const runs = bays.map((bay) => makeRun(bay, ground));
  if (start !== 'best') return runs.map((run) => [placeJoints({ ...run, prefer: preferOf[start] })]);
  const trials = runs.map(listTrials);
  if (runs.length === 1) return trials;
  const strips = runs.map((run, k) => completeStrips(run, trials[k]!));
  return runs.map((run, k) => listTrials({ ...run, stripsMm: strips.filter((_, i) => i !== k).flat() }));
}

/** Choices of one trial per bay: all of them while they are few, else each bay's trials beside the others' first. */
function* combineTrials(trials: readonly (readonly number[][])[]): Generator<number[][]> {
  const total = trials.reduce((product, own) => product * own.length, 1);
  if (total <= layoutsMost) {
    for (let n = 0; n < total; n++) {
      let rest = n;
      yield trials.map((own) => {
        const joints = own[rest % own.length]!;
        rest = Math.floor(rest / own.length);
        return joints;
      });
    }
    return;
  }
  const first = trials.map((own) => own[0]!);
  yield first;
  for (const [bay, own] of trials.entries())
    for (const joints of own.slice(1)) yield first.map((usual, k) => (k === bay ? joints : usual));
}

const nameKinds = (items: readonly CutItem[]) =>
  groupItems(items)
    .map(({ width, length, wants, items: own }) => [width, length, wants, own.length].join(' '))
    .join();

/**
 * The layout of fewest faults, then fewest boards, then the best cutting (`cutItems`) of its boards and the further items
 * out of the stock; among equals the first of: balanced, from the left, from the right. Over all runs of joints while they
 * are few; `progress` tells the share of the trials done.
 */
export function searchLayouts(
  bays: readonly Bay[],
  ground: LayoutGround,
  start: Start,
  further: readonly CutItem[],
  solve: ProgrammeSolver,
  progress: Progress,
): Layout {
  const trials = listAllTrials(bays, ground, start);
  const layouts = [...combineTrials(trials)].map((joints) => layBoards(bays, joints, ground));
  const ranks = layouts.map(({ faults, boards }) => [faults, boards.length]);
  const least = ranks.reduce((best, rank) => (isBefore(rank, best) ? rank : best));
  const equals = layouts.filter((_, k) => !isBefore(least, ranks[k]!));
  if (equals.length === 1) return equals[0]!;
  const seen = new Set<string>();
  const distinct = equals.flatMap((layout) => {
    const items = [
      ...listBoardItems(
        layout.boards.map(({ rect }) => rect),
        String,
      ),
      ...further,
    ];
    const fitting = items.filter((item) => ground.stock.some((size) => fitsSize(item, size)));
    const name = nameKinds(fitting);
    if (seen.has(name)) return [];
    seen.add(name);
    const kinds = groupItems(fitting);
    return [
      { layout, items: fitting, bound: boundRank(kinds, ground.stock, boundSheets(kinds, ground.stock)) },
    ];
  });
  let best = { layout: distinct[0]!.layout, rank: [Infinity, 0, 0, 0] as readonly number[] };
  let cuttings = 0;
  distinct.forEach(({ layout, items, bound }, k) => {
    progress(k / distinct.length);
    if (cuttings === cuttingsMost || !isBefore(bound, best.rank)) return;
    cuttings++;
    const rank = rankCutting(cutItems(items, ground.stock, solve, efforts));
    if (isBefore(rank, best.rank)) best = { layout, rank };
  });
  return best.layout;
}
