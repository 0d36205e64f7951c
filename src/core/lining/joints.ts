/** A stretch in which no joint should lie (mm, its ends are allowed), and how bad one there would be. */
export interface NoJoint {
  readonly from: number;
  readonly to: number;
  readonly cost: number;
}

/** A run of boards side by side from `from` to `to` (mm). */
export interface BoardRun {
  readonly from: number;
  readonly to: number;
  /** The stock board's size along the run; of several sizes the largest. */
  readonly boardMm: number;
  /** All sizes that need no cut along the run; missing = `boardMm` alone. */
  readonly uncutMm?: readonly number[];
  /** Narrowest strip wanted. */
  readonly minStripMm: number;
  readonly noJoint: readonly NoJoint[];
  /** Further widths of strip worth trying. */
  readonly stripsMm?: readonly number[];
  /** Among equally good runs: cut strips alike and late in the run, or the joints as far on or as early as they go. */
  readonly prefer: 'balanced' | 'late' | 'early';
}

/** Places nearer than this are one place (mm). */
const close = 1e-6;

/**
 * Places where a joint of a best run can be: a run of full boards can be slid until something stops it, which is an end of
 * the run, an end of a no-joint stretch, a strip at its narrowest, or two end strips alike.
 */
function listPlaces(run: BoardRun): number[] {
  const { from, to, boardMm, uncutMm = [], stripsMm = [], minStripMm, noJoint } = run;
  const most = Math.ceil((to - from) / boardMm) + 1;
  const rest = (to - from) % boardMm;
  const stops = [from, to, from + (rest + boardMm) / 2];
  for (const stretch of noJoint) stops.push(stretch.from, stretch.to);
  const places: number[] = [];
  const others = uncutMm.filter((size) => Math.abs(size - boardMm) > close);
  const strips = [minStripMm, ...stripsMm, ...others, ...others.map((size) => 2 * size)];
  for (const stop of stops)
    for (const strip of [0, ...strips, ...strips.map((size) => -size)])
      for (let k = -most; k <= most; k++) places.push(stop + strip + k * boardMm);
  const inside = places.filter((place) => place > from + close && place < to - close).sort((a, b) => a - b);
  return [from, ...inside.filter((place, i) => i === 0 || place - inside[i - 1]! > close), to];
}

/** What a run costs, most important first; compared in this order, summed board by board; `last` and `then` rank equals. */
type Cost = readonly [
  faults: number,
  boards: number,
  innerCuts: number,
  cuts: number,
  last: number,
  then: number,
];

const isLess = (a: Cost, b: Cost): boolean => {
  for (let k = 0; k < a.length; k++) if (Math.abs(a[k]! - b[k]!) > close) return a[k]! < b[k]!;
  return false;
};

/** Cost of the joints at one place: those of the no-joint stretches that hold it. */
const costJoint = (noJoint: readonly NoJoint[], at: number): number =>
  noJoint.reduce((sum, { from, to, cost }) => (at > from + close && at < to - close ? sum + cost : sum), 0);

/** Cost of a run up to `a` and one more board from there to `b`, whose joint costs `jointCost`. */
function addBoard(run: BoardRun, before: Cost, a: number, b: number, jointCost: number): Cost {
  const { from, to, boardMm, uncutMm = [boardMm], minStripMm, prefer } = run;
  const width = b - a;
  const cut = uncutMm.some((size) => Math.abs(width - size) <= close) ? 0 : 1;
  const innerCut = cut === 1 && a !== from && b !== to ? 1 : 0;
  const faults = before[0] + jointCost + (width < minStripMm - close ? 1 : 0);
  const boards = before[1] + 1;
  if (prefer === 'early') return [faults, boards, 0, 0, before[4] + b - from, 0];
  if (prefer === 'late') return [faults, boards, 0, 0, before[4] + from - b, 0];
  return [
    faults,
    boards,
    before[2] + innerCut,
    before[3] + cut,
    before[4] + width * width,
    before[5] + from - b,
  ];
}

/**
 * Joints (mm, ascending, without the ends) of the best run of boards: fewest faults (joints where none should lie, strips
 * under the minimum), then fewest boards, then fewest cut boards between full ones, then fewest cuts, then end strips as
 * alike as can be. Exact over its places by dynamic programming from the run's start.
 * Source: the balanced cut (rest + board) / 2 is common practice, no source.
 * @example placeJoints({ from: 0, to: 4850, boardMm: 1200, minStripMm: 300, noJoint: [], prefer: 'balanced' }) // [625, 1825, 3025, 4225]
 */
export function placeJoints(run: BoardRun): number[] {
  const places = listPlaces(run);
  const best: Cost[] = [[0, 0, 0, 0, 0, 0]];
  const before = new Int32Array(places.length);
  for (let b = 1; b < places.length; b++) {
    const end = places[b]!;
    const jointCost = end === run.to ? 0 : costJoint(run.noJoint, end);
    for (let a = b - 1; a >= 0 && end - places[a]! <= run.boardMm + close; a--) {
      const cost = addBoard(run, best[a]!, places[a]!, end, jointCost);
      if (best[b] && !isLess(cost, best[b]!)) continue;
      best[b] = cost;
      before[b] = a;
    }
  }
  const joints: number[] = [];
  for (let b = before[places.length - 1]!; b > 0; b = before[b]!) joints.unshift(places[b]!);
  return joints;
}

/** Faults and boards alone: what every run that is to be as good as the best must equal. */
interface Tally {
  readonly faults: number;
  readonly boards: number;
}

/**
 * Joints of every run with as few faults, and then as few boards, as the best, over the same places; null when there are
 * more than `most`.
 * @example listRuns({ from: 0, to: 1500, boardMm: 1200, minStripMm: 300, noJoint: [], prefer: 'balanced' }, 10).length // 7
 */
export function listRuns(run: BoardRun, most: number): number[][] | null {
  const places = listPlaces(run);
  const best: Tally[] = [{ faults: 0, boards: 0 }];
  const before: number[][] = [[]];
  for (let b = 1; b < places.length; b++) {
    const end = places[b]!;
    const jointCost = end === run.to ? 0 : costJoint(run.noJoint, end);
    let least: Tally = { faults: Infinity, boards: Infinity };
    let from: number[] = [];
    for (let a = b - 1; a >= 0 && end - places[a]! <= run.boardMm + close; a--) {
      const narrow = end - places[a]! < run.minStripMm - close ? 1 : 0;
      const faults = best[a]!.faults + jointCost + narrow;
      const boards = best[a]!.boards + 1;
      const better = faults - least.faults || boards - least.boards;
      if (better < 0) [least, from] = [{ faults, boards }, [a]];
      else if (better === 0) from.push(a);
    }
    best.push(least);
    before.push(from);
  }
  const runs: number[][] = [];
  const walk = (b: number, joints: readonly number[]): boolean => {
    if (b === 0) runs.push([...joints]);
    if (runs.length > most) return false;
    return before[b]!.every((a) => walk(a, a === 0 ? joints : [places[a]!, ...joints]));
  };
  return walk(places.length - 1, []) ? runs : null;
}
