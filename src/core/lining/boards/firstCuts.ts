import type { StockSize } from '../../survey.ts';
import type { Bar, CutOrder } from './bars.ts';
import { closeMm } from './pieceKind.ts';

/** How a stock board is parted by its first cuts: how many bars of each size, and how many of those at its own edges. */
export interface FirstCuts {
  readonly order: CutOrder;
  /** For each size of `BarSize`: how many, and how many of them have an edge of the stock board. */
  readonly counts: readonly number[];
  readonly edges: readonly number[];
  readonly cuts: number;
}

/** A size of bar; `most`: no more of them are ever needed; `wanted`: some of its bars want an edge of the stock board. */
export interface BarSize {
  readonly sizeMm: number;
  readonly most: number;
  readonly wanted: boolean;
}

/** The sizes among bars of one order, largest first. */
export function listBarSizes(bars: readonly Bar[], countOf: (kind: number) => number): BarSize[] {
  const sizes: { sizeMm: number; kinds: Set<number>; wanted: boolean }[] = [];
  for (const bar of bars) {
    let size = sizes.find(({ sizeMm }) => Math.abs(sizeMm - bar.sizeMm) <= closeMm);
    if (!size) sizes.push((size = { sizeMm: bar.sizeMm, kinds: new Set(), wanted: false }));
    for (const part of bar.parts) if (bar.sizeMm - part.across <= closeMm) size.kinds.add(part.kind);
    if (bar.order === 'rip' && bar.edges === 1) size.wanted = true;
  }
  return sizes.map(({ sizeMm, kinds, wanted }) => ({
    sizeMm,
    wanted,
    most: [...kinds].reduce((sum, kind) => sum + countOf(kind), 0),
  }));
}

/** The ways to give the stock board's two edges to bars that want them: as many as can be, of every pair of sizes. */
function shareEdges(sizes: readonly BarSize[], counts: readonly number[]): number[][] {
  const wanted = sizes.flatMap(({ wanted: is }, k) => (is && counts[k]! > 0 ? [k] : []));
  const total = wanted.reduce((sum, k) => sum + counts[k]!, 0);
  const give = (...to: number[]) => sizes.map((_, k) => to.filter((each) => each === k).length);
  if (total === 0) return [give()];
  if (total === 1) return [give(wanted[0]!)];
  return wanted.flatMap((a, i) =>
    wanted.slice(i).flatMap((b) => (a !== b || counts[a]! > 1 ? [give(a, b)] : [])),
  );
}

/** Every way to part a stock board into bars of these sizes, few or many. Null when there are more than `most`. */
export function listFirstCuts(
  sizes: readonly BarSize[],
  { width, length }: StockSize,
  order: CutOrder,
  most: number,
): FirstCuts[] | null {
  const roomMm = order === 'rip' ? width : length;
  const ways: FirstCuts[] = [];
  const counts = sizes.map(() => 0);
  const add = (k: number, restMm: number, bars: number): boolean => {
    if (ways.length > most) return false;
    if (k === sizes.length) {
      const cuts = bars - (restMm <= closeMm ? 1 : 0);
      if (bars > 0)
        for (const edges of shareEdges(sizes, counts)) ways.push({ order, counts: [...counts], edges, cuts });
      return true;
    }
    const { sizeMm, most: mostOfIt } = sizes[k]!;
    for (let n = 0; n <= mostOfIt && n * sizeMm <= restMm + closeMm; n++) {
      counts[k] = n;
      const went = add(k + 1, restMm - n * sizeMm, bars + n);
      counts[k] = 0;
      if (!went) return false;
    }
    return true;
  };
  return add(0, roomMm, 0) ? ways : null;
}
