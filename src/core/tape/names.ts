/** How the names of the clicked marks fit the counted graduations. */
export interface NamedLattice {
  /** Place on the tape's axis (mm) of the graduation numbered 0. */
  readonly zeroMm: number;
  /** By how much the last mark's name is too large for the graduations between the first and it (mm); 0 where it fits. */
  readonly misnamedMm: number;
}

/** A clicked mark counted on the lattice: its place on the axis (mm), graduations (not whole) and px per graduation there. */
export interface CountedClick {
  readonly at: number;
  readonly count: number;
  readonly periodPx: number;
}

/** A click further off than this (px) is no longer only a bad click. */
const MOST_CLICK_PX = 5.5;
/** The next best numbering must be worse by this (px^2): four sigmas of a click of 1 px. */
const LEAST_MARGIN_PX2 = 14;

/**
 * Which graduation is which, by the names of the clicked marks (the first and last of which are the tape's two): the numbering
 * that leaves the clicks the least misses, none counted beyond 5.5 px. Null where another numbering fits about as well.
 */
export function nameLattice(clicks: readonly CountedClick[], pitchMm: number): NamedLattice | null {
  const zeros = new Set<number>();
  for (const { at, count } of clicks)
    for (const off of [-1, 0, 1]) zeros.add(roundTo(at - pitchMm * (Math.round(count) + off)));
  const tries = [...zeros]
    .map((zeroMm) => ({ zeroMm, cost: costOf(clicks, pitchMm, zeroMm) }))
    .sort((a, b) => a.cost - b.cost);
  const [best, next] = tries;
  if (!best || (next && next.cost - best.cost < LEAST_MARGIN_PX2)) {
    const misnamedMm = judgeNames(clicks, pitchMm);
    // two names that differ from the count share their blame: any numbering will do to tell so
    return best && misnamedMm !== 0 ? { zeroMm: best.zeroMm, misnamedMm } : null;
  }
  return { zeroMm: best.zeroMm, misnamedMm: judgeNames(clicks, pitchMm) };
}

const roundTo = (mm: number) => Math.round(mm * 1e6) / 1e6;

function costOf(clicks: readonly CountedClick[], pitchMm: number, zeroMm: number): number {
  return clicks.reduce((sum, { at, count, periodPx }) => {
    const missPx = (count - (at - zeroMm) / pitchMm) * periodPx;
    return sum + Math.min(missPx * missPx, MOST_CLICK_PX ** 2);
  }, 0);
}

/** By how much the last name is too large (mm), in whole graduations. */
function judgeNames(clicks: readonly CountedClick[], pitchMm: number): number {
  const first = clicks[0]!;
  const last = clicks.at(-1)!;
  const counted = last.count - first.count;
  const missing = (last.at - first.at) / pitchMm - counted;
  const missPx = (Math.abs(missing) * (first.periodPx + last.periodPx)) / 2;
  return missPx > MOST_CLICK_PX ? Math.round(missing) * pitchMm : 0;
}
