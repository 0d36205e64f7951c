import type { StockSize } from '../../survey.ts';
import type { Programme, ProgrammeRow, ProgrammeSolver, ProgrammeUnknown } from '../programme.ts';
import { listBars, type Bar, type CutOrder } from './bars.ts';
import { listBarSizes, listFirstCuts, type BarSize, type FirstCuts } from './firstCuts.ts';
import { closeMm, type PieceKind } from './pieceKind.ts';

/** Everything a stock board of one size can be cut into, in one order. */
export interface CutChoices {
  readonly stock: StockSize;
  readonly order: CutOrder;
  readonly bars: readonly Bar[];
  readonly sizes: readonly BarSize[];
  readonly firstCuts: readonly FirstCuts[];
}

/** How often each choice is taken. */
export interface CutCounts {
  readonly bars: readonly (readonly [bar: Bar, count: number])[];
  readonly firstCuts: readonly (readonly [cuts: FirstCuts, count: number])[];
  readonly choices: CutChoices;
}

/** The best cutting that was found, and how few sheets there can be at least. */
export interface CutSolution {
  readonly counts: readonly CutCounts[];
  readonly sheetsLeast: number;
}

const isSize = (a: number, b: number) => Math.abs(a - b) <= closeMm;

/** All choices, or null where there are more than `most` of them. */
export function listCutChoices(
  kinds: readonly PieceKind[],
  stock: readonly StockSize[],
  most: number,
): CutChoices[] | null {
  const choices: CutChoices[] = [];
  let left = most;
  for (const size of stock)
    for (const order of ['rip', 'cross'] as const) {
      const bars = listBars(kinds, size, order, left);
      if (!bars) return null;
      const sizes = listBarSizes(bars, (kind) => kinds[kind]!.items.length);
      const firstCuts = listFirstCuts(sizes, size, order, left - bars.length);
      if (!firstCuts) return null;
      left -= bars.length + firstCuts.length;
      choices.push({ stock: size, order, bars, sizes, firstCuts });
    }
  return choices;
}

/** What a unit of each choice costs. */
interface Costs {
  readonly bar: (bar: Bar) => number;
  readonly sheet: (stock: StockSize, cuts: FirstCuts) => number;
}

/** Rows: every piece is cut once; every bar is in a board, and those that want its edges get them. */
function writeProgramme(
  kinds: readonly PieceKind[],
  choices: readonly CutChoices[],
  costs: Costs,
  limits: readonly { of: Costs; most: number }[],
): Programme {
  const unknowns: ProgrammeUnknown[] = [];
  const terms = kinds.map((): [number, number][] => []);
  const rows: ProgrammeRow[] = [];
  const limitTerms = limits.map((): [number, number][] => []);
  const most = kinds.reduce((sum, { items }) => sum + items.length, 0);
  const addUnknown = (costOf: (costs: Costs) => number, upper: number) => {
    limits.forEach(({ of }, k) => {
      if (costOf(of) !== 0) limitTerms[k]!.push([unknowns.length, costOf(of)]);
    });
    unknowns.push({ cost: costOf(costs), lower: 0, upper, whole: true });
    return unknowns.length - 1;
  };
  for (const { stock, bars, sizes, firstCuts } of choices) {
    const filled = sizes.map((): [number, number][] => []);
    const atEdge = sizes.map((): [number, number][] => []);
    for (const bar of bars) {
      const unknown = addUnknown((of) => of.bar(bar), most);
      const counts = new Map<number, number>();
      for (const { kind } of bar.parts) counts.set(kind, (counts.get(kind) ?? 0) + 1);
      for (const [kind, count] of counts) terms[kind]!.push([unknown, count]);
      const size = sizes.findIndex(({ sizeMm }) => isSize(sizeMm, bar.sizeMm));
      filled[size]!.push([unknown, 1]);
      if (bar.order === 'rip' && bar.edges === 1) atEdge[size]!.push([unknown, 1]);
    }
    for (const cuts of firstCuts) {
      const unknown = addUnknown((of) => of.sheet(stock, cuts), most);
      cuts.counts.forEach((count, k) => count > 0 && filled[k]!.push([unknown, -count]));
      cuts.edges.forEach((count, k) => count > 0 && atEdge[k]!.push([unknown, -count]));
    }
    filled.forEach((own) => rows.push({ terms: own, lower: 0, upper: 0 }));
    sizes.forEach(({ wanted }, k) => {
      if (wanted) rows.push({ terms: atEdge[k]!, lower: -Infinity, upper: 0 });
    });
  }
  kinds.forEach(({ items }, k) => rows.push({ terms: terms[k]!, lower: items.length, upper: items.length }));
  limits.forEach((limit, k) => rows.push({ terms: limitTerms[k]!, lower: -Infinity, upper: limit.most }));
  return { unknowns, rows };
}

function readCounts(choices: readonly CutChoices[], at: Float64Array): CutCounts[] {
  let k = 0;
  return choices.map((each) => ({
    bars: each.bars.map((bar) => [bar, Math.round(at[k++]!)] as const).filter(([, count]) => count > 0),
    firstCuts: each.firstCuts
      .map((cuts) => [cuts, Math.round(at[k++]!)] as const)
      .filter(([, count]) => count > 0),
    choices: each,
  }));
}

/** Area by which a stock board exceeds the smallest, in steps of 0.01 m2: whole numbers keep the search exact. */
function areaSteps(stock: readonly StockSize[]): (size: StockSize) => number {
  const area = ({ width, length }: StockSize) => Math.round((width * length) / 1e4);
  const least = Math.min(...stock.map(area));
  return (size) => area(size) - least;
}

/**
 * The cutting of fewest stock boards, then of the least stock area, then with the fewest cut edges at joints, then of the
 * fewest cuts, among all two-stage guillotine cuttings with trims, by a programme of whole numbers over all bars and all
 * first cuts. Null where the search found nothing within its limit.
 * Source: P. C. Gilmore, R. E. Gomory, Multistage cutting stock problems of two and more dimensions, Operations Research
 * 13 (1965), 94-120, from memory.
 */
export function solveCutting(
  kinds: readonly PieceKind[],
  choices: readonly CutChoices[],
  solve: ProgrammeSolver,
  nodesMost: number,
): CutSolution | null {
  const items = kinds.reduce((sum, kind) => sum + kind.items.length, 0);
  const wants = kinds.reduce((sum, kind) => sum + kind.wants * kind.items.length, 0);
  // A piece takes at most three cuts: one each way and a trim.
  const joint = 3 * items + 1;
  const sheet = joint * (wants + 1);
  const stock = choices.map((each) => each.stock);
  const extra = areaSteps(stock);
  const mostExtra = Math.max(...stock.map(extra)) * items;
  const fine: Costs = {
    bar: ({ cuts, cutJoints }) => cuts + joint * cutJoints,
    sheet: (_, { cuts }) => cuts,
  };
  if (mostExtra === 0) {
    const costs: Costs = { bar: fine.bar, sheet: (_, { cuts }) => cuts + sheet };
    const { at, bound } = solve(writeProgramme(kinds, choices, costs, []), { nodesMost });
    if (!at) return null;
    return { counts: readCounts(choices, at), sheetsLeast: Math.floor((bound + 1e-6) / sheet) };
  }
  const coarse: Costs = { bar: () => 0, sheet: (size) => mostExtra + 1 + extra(size) };
  const first = solve(writeProgramme(kinds, choices, coarse, []), { nodesMost });
  if (!first.at) return null;
  const sheetsLeast = Math.ceil((first.bound - mostExtra - 1e-6) / (mostExtra + 1));
  const limits = [{ of: coarse, most: Math.round(first.cost) }];
  const second = solve(writeProgramme(kinds, choices, fine, limits), { nodesMost });
  return { counts: readCounts(choices, second.at ?? first.at), sheetsLeast };
}
