import type { BedPlane } from '../../results.ts';
import type { ProgrammeEnd, ProgrammeRow, ProgrammeSolver, ProgrammeUnknown } from '../programme.ts';
import type { WallNodes } from './wallNodes.ts';
import type { PlaneWish } from './wishes.ts';

/** Nobody lines a wall that stands 45 degrees off its laser: what "free" is bounded by (mm/mm). */
const steepest = 1;
/** A row that fails by less holds (mm): twice what the solver keeps its rows to. */
const exact = 2e-9;
/** Rows are added for the node that fails most in each cell of so coarse a grid. */
const cells = { along: 6, up: 4 };

/** Where masonry may come off, and how deep at most. */
export interface Removal {
  /** For each node, the spots that it lies in. */
  readonly covers: readonly (readonly number[])[];
  readonly count: number;
  readonly depthMm: number;
}

/** No masonry comes off anywhere. */
export const noRemoval: Removal = { covers: [], count: 0, depthMm: 0 };

/** Which spots are hacked off: these, or up to `most` of all, at no node more than `mostMm` (a bound that every good choice keeps). */
export type Choice =
  { readonly taken: ReadonlySet<number> } | { readonly most: number; readonly mostMm: Float64Array };

/**
 * What is made least, or held: the mean bed as hacked (mm, from a fixed base), what all wishes give way together, what is hacked off
 * on the mean over all nodes (mm), |r| or |q| (mm over half the wall), or what one wish gives way, by its number; the number after the last wish stands for
 * the least bed; or wp p + wq q + wr r of the plane, from a fixed base.
 */
export type Measure =
  | 'mean'
  | 'missed'
  | 'hacked'
  | 'lean'
  | 'turn'
  | number
  | { readonly p: number; readonly q: number; readonly r: number };

/** What the mean bed counts against a millimetre of a wish when spots are chosen: a thousandth. */
export const wishFirst = 1000;

/** The sum to make least, what is held at a most, and which wishes may give way. */
export interface Goal {
  readonly least: Measure | 'worth';
  readonly caps: readonly (readonly [Measure | 'worth', most: number])[];
  readonly mayGive: (wish: number) => boolean;
}

/** A plane that attains a goal. */
export interface GoalEnd {
  readonly plane: BedPlane;
  /** Numbers of the spots chosen to be hacked off. */
  readonly chosen: readonly number[];
  /** Whether no choice of spots is better by the rows so far, and what the goal then comes to at least. */
  readonly proven: boolean;
  readonly bound: number;
  readonly measure: (measure: Measure | 'worth') => number;
}

/** Attains goals over one wall, null where that cannot be; rows found for one goal serve the next. Without a choice all spots are taken. */
export type PlaneProgramme = (goal: Goal, choice?: Choice) => GoalEnd | null;

const mean = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0) / values.length;
const spread = (values: Float64Array, middle: number) =>
  values.reduce((most, value) => Math.max(most, Math.abs(value - middle)), 0) || 1;

// Unknowns: height at the nodes' middle; turn and lean over half the wall, each as two parts >= 0; what each wish and the least bed give
// way; one yes or no for each spot; what is hacked off on the mean over all nodes.
const [height, turnUp, turnDown, leanUp, leanDown, give] = [0, 1, 2, 3, 4, 5];

type Terms = readonly (readonly [number, number])[];

/**
 * The linear programme of the bed plane: every node keeps its least bed, or is hacked off where that is allowed, and every wish is kept or
 * gives way. Only rows that some answer broke are in it; it is solved again with those that the answer breaks until none is: the optimum
 * over all nodes. A goal that cannot be attained comes back as null. Source: DEVELOPERS.md, "From surface to lining".
 */
export function openPlaneProgramme(
  nodes: WallNodes,
  wishes: readonly PlaneWish[],
  removal: Removal,
  solve: ProgrammeSolver,
): PlaneProgramme {
  const count = nodes.out.length;
  const middle = { along: mean(nodes.along), up: mean(nodes.up) };
  const half = { along: spread(nodes.along, middle.along), up: spread(nodes.up, middle.up) };
  const baseMm = mean(nodes.out);
  const x = nodes.along.map((along) => (along - middle.along) / half.along);
  const y = nodes.up.map((up) => (up - middle.up) / half.up);
  const spots = give + wishes.length + 1;
  const off = spots + removal.count;
  const every = new Set(Array.from({ length: removal.count }, (_, k) => k));
  const chosenHolds = new Set<number>();
  const deepestHolds = new Set<number>();
  const cuts: ProgrammeRow[] = [];
  const cutNames = new Set<string>();

  const slopes = (a: number, b: number): Terms => [
    [turnUp, a],
    [turnDown, -a],
    [leanUp, b],
    [leanDown, -b],
  ];
  const cellOf = Int32Array.from(
    x,
    (across, i) =>
      Math.min(Math.floor(((across + 1) / 2) * cells.along), cells.along - 1) * cells.up +
      Math.min(Math.floor(((y[i]! + 1) / 2) * cells.up), cells.up - 1),
  );
  const levelMm = nodes.out.map((out, i) => out + nodes.needMm[i]! - baseMm);
  const standIn = (i: number): Terms => [[height, 1], ...slopes(x[i]!, y[i]!), [give + wishes.length, 1]];
  // A node holds the plane as far as no spot that it lies in is chosen, and a spot's depth behind that in any case.
  const holdNodes = (mostMm: Float64Array | null): ProgrammeRow[] => [
    ...Array.from(chosenHolds, (i): ProgrammeRow => {
      const most = mostMm ? mostMm[i]! : removal.depthMm;
      const covers = (removal.covers[i] ?? []).map((spot) => [spots + spot, most] as const);
      return { terms: [...standIn(i), ...covers], lower: levelMm[i]!, upper: Infinity };
    }),
    ...Array.from(deepestHolds, (i): ProgrammeRow => {
      return { terms: standIn(i), lower: levelMm[i]! - removal.depthMm, upper: Infinity };
    }),
  ];
  const addWorst = (fails: (i: number) => number, holdsOf: (i: number) => Set<number>): number => {
    const worst = new Map<number, { i: number; by: number }>();
    for (let i = 0; i < count; i++) {
      const by = fails(i);
      if (by > exact && by > (worst.get(cellOf[i]!)?.by ?? -Infinity) && !holdsOf(i).has(i))
        worst.set(cellOf[i]!, { i, by });
    }
    for (const { i } of worst.values()) holdsOf(i).add(i);
    return worst.size;
  };
  const lowest = levelMm.reduce((least, level) => Math.min(least, level), Infinity);
  addWorst(
    (i) => 1 + levelMm[i]! - lowest,
    () => chosenHolds,
  );
  /** Holds what is hacked off at the sum over all nodes that stand in the plane's way: over any nodes it is no less. */
  const addCut = (at: Float64Array, short: (i: number) => number): number => {
    let [cut, sum, sumX, sumY, sumLevel] = [0, 0, 0, 0, 0];
    for (let i = 0; i < count; i++) {
      const by = removal.covers[i]?.length ? short(i) : 0;
      if (!(by > 0)) continue;
      cut++;
      sum += by;
      sumX += x[i]!;
      sumY += y[i]!;
      sumLevel += levelMm[i]!;
    }
    // The same cut again says nothing new: it holds as well as the solver holds it.
    const name = [cut, sumX, sumY, sumLevel].join();
    if (sum / count <= at[off]! + exact || cutNames.has(name)) return 0;
    cutNames.add(name);
    const terms: Terms = [
      [off, count / cut],
      [height, 1],
      ...slopes(sumX / cut, sumY / cut),
      [give + wishes.length, 1],
    ];
    cuts.push({ terms, lower: sumLevel / cut, upper: Infinity });
    return 1;
  };

  const weigh = ({ p, q, r }: { readonly p: number; readonly q: number; readonly r: number }): Terms => [
    [height, p],
    ...slopes((q - p * middle.along) / half.along, (r - p * middle.up) / half.up),
  ];
  const termsOf = (measure: Measure | 'worth'): Terms => {
    if (measure === 'worth')
      return [...termsOf('mean'), ...termsOf('missed').map(([column]) => [column, wishFirst] as const)];
    if (typeof measure === 'object') return weigh(measure);
    if (typeof measure === 'number') return [[give + measure, 1]];
    if (measure === 'turn') return [[turnUp, 1], [turnDown, 1]]; // prettier-ignore
    if (measure === 'lean') return [[leanUp, 1], [leanDown, 1]]; // prettier-ignore
    if (measure === 'missed') return wishes.map((_, k) => [give + k, 1]);
    return measure === 'mean' ? [[height, 1], [off, 1]] : [[off, 1]]; // prettier-ignore
  };

  const wishRows = wishes.flatMap(({ weights, least, most }, k): ProgrammeRow[] => {
    const fixed = (weights.p && weights.p * baseMm) || 0;
    const plain = weigh(weights);
    const rows: ProgrammeRow[] = [];
    if (least > -Infinity)
      rows.push({ terms: [...plain, [give + k, 1]], lower: least - fixed, upper: Infinity });
    if (most < Infinity)
      rows.push({ terms: [...plain, [give + k, -1]], lower: -Infinity, upper: most - fixed });
    return rows;
  });
  const build = ({ least, caps, mayGive }: Goal, choice: Choice) => {
    const costs = new Map<number, number>();
    for (const [column, share] of termsOf(least)) costs.set(column, (costs.get(column) ?? 0) + share);
    const unknown = (column: number, lower: number, upper: number): ProgrammeUnknown => ({
      cost: costs.get(column) ?? 0,
      lower,
      upper,
    });
    const unknowns = [
      unknown(height, -Infinity, Infinity),
      ...[turnUp, turnDown].map((column) => unknown(column, 0, steepest * half.along)),
      ...[leanUp, leanDown].map((column) => unknown(column, 0, steepest * half.up)),
      ...Array.from({ length: wishes.length + 1 }, (_, k) => unknown(give + k, 0, mayGive(k) ? Infinity : 0)),
      ...Array.from(every, (k) => {
        if ('most' in choice) return { ...unknown(spots + k, 0, 1), whole: true };
        const isTaken = choice.taken.has(k) ? 1 : 0;
        return unknown(spots + k, isTaken, isTaken);
      }),
      unknown(off, 0, Infinity),
    ];
    const rows = [...holdNodes('most' in choice ? choice.mostMm : null), ...cuts, ...wishRows];
    for (const [measure, upper] of caps) rows.push({ terms: termsOf(measure), lower: -Infinity, upper });
    if ('most' in choice)
      rows.push({
        terms: Array.from(every, (k) => [spots + k, 1] as const),
        lower: -Infinity,
        upper: choice.most,
      });
    return { unknowns, rows };
  };

  const readEnd = ({ ended, bound }: ProgrammeEnd, at: Float64Array, chosen: readonly number[]): GoalEnd => {
    const q = (at[turnUp]! - at[turnDown]!) / half.along;
    const r = (at[leanUp]! - at[leanDown]!) / half.up;
    // + 0 turns a negative zero into a plain one.
    const plane = { p: at[height]! + baseMm - q * middle.along - r * middle.up, q: q + 0, r: r + 0 };
    const measure = (of: Measure | 'worth') =>
      termsOf(of).reduce((sum, [column, share]) => sum + share * (at[column] ?? 0), 0);
    return { plane, chosen, proven: ended === 'optimal', bound, measure };
  };

  return (goal, choice = { taken: every }) => {
    for (;;) {
      const end = solve(build(goal, choice));
      const { at } = end;
      if (!at) return null;
      const chosen = [...every].filter((k) => at[spots + k]! > 0.5);
      const taken = new Set(chosen);
      // read once: asked of every node
      const [bed, middleMm] = [at[give + wishes.length]!, at[height]!];
      const [turn, lean] = [at[turnUp]! - at[turnDown]!, at[leanUp]! - at[leanDown]!];
      const short = (i: number) => levelMm[i]! - bed - middleMm - turn * x[i]! - lean * y[i]!;
      const isTaken = (i: number) => removal.covers[i]?.some((spot) => taken.has(spot)) ?? false;
      const added = addWorst(
        (i) => {
          const by = short(i);
          return by > exact && isTaken(i) ? by - removal.depthMm : by;
        },
        (i) => (isTaken(i) ? deepestHolds : chosenHolds),
      );
      // Which spots are best is asked again once the wall has been looked at for these.
      if (added + addCut(at, short) === 0 || 'most' in choice) return readEnd(end, at, chosen);
    }
  };
}
