/** A piece for the exhaustive search: upright, `wants` = how many of its side edges will stand at a joint. */
export interface BrutePiece {
  readonly width: number;
  readonly length: number;
  readonly wants: number;
}

/** Cut edges at joints, then cuts. */
type Price = readonly [cutJoints: number, cuts: number];

const close = 1e-6;
const isLess = (a: readonly number[], b: readonly number[]) => {
  const k = a.findIndex((value, i) => Math.abs(value - b[i]!) > close);
  return k >= 0 && a[k]! < b[k]!;
};
const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);

/** All ways to part a list into non-empty groups. */
export function* partitions<T>(list: readonly T[]): Generator<T[][]> {
  const [first, ...rest] = list;
  if (first === undefined) {
    yield [];
    return;
  }
  for (const groups of partitions(rest)) {
    yield [[first], ...groups];
    for (let k = 0; k < groups.length; k++)
      yield groups.map((group, i) => (i === k ? [first, ...group] : group));
  }
}

/** All pairs (or fewer) of indices that may get one of the two edges. */
const edgeChoices = (count: number): number[][] => {
  const all = [...Array(count).keys()];
  return count <= 2 ? [all] : all.flatMap((a) => all.filter((b) => b > a).map((b) => [a, b]));
};

const lost = (wants: readonly number[], bound: readonly number[]) =>
  sum(wants.map((want, k) => Math.max(0, want - bound[k]!)));

/** Cheapest way to cut these pieces from one stock board in two stages with trims; null = they do not fit so. */
function priceSheet(pieces: readonly BrutePiece[], width: number, length: number): Price | null {
  let best: Price | null = null;
  const offer = (price: Price) => {
    if (!best || isLess(price, best)) best = price;
  };
  for (const bars of partitions(pieces)) {
    // Strips along the board, cut to length.
    const widths = bars.map((bar) => Math.max(...bar.map((piece) => piece.width)));
    if (
      sum(widths) <= width + close &&
      bars.every((bar) => sum(bar.map((p) => p.length)) <= length + close)
    ) {
      const rips = bars.length - (sum(widths) >= width - close ? 1 : 0);
      const inner = bars.map((bar, k) => {
        const trims = bar.filter((piece) => piece.width < widths[k]! - close).length;
        return bar.length - (sum(bar.map((p) => p.length)) >= length - close ? 1 : 0) + trims;
      });
      for (const edges of edgeChoices(bars.length)) {
        const joints = bars.map((bar, k) =>
          lost(
            bar.map(({ wants }) => wants),
            bar.map((piece) => (piece.width >= width - close ? 2 : edges.includes(k) ? 1 : 0)),
          ),
        );
        offer([sum(joints), rips + sum(inner)]);
      }
    }
    // Lengths across the board, ripped.
    const lengths = bars.map((bar) => Math.max(...bar.map((piece) => piece.length)));
    if (
      sum(lengths) <= length + close &&
      bars.every((bar) => sum(bar.map((p) => p.width)) <= width + close)
    ) {
      const crosses = bars.length - (sum(lengths) >= length - close ? 1 : 0);
      const inner = bars.map((bar, k) => {
        const trims = bar.filter((piece) => piece.length < lengths[k]! - close).length;
        return bar.length - (sum(bar.map((p) => p.width)) >= width - close ? 1 : 0) + trims;
      });
      const joints = bars.map((bar) =>
        Math.min(
          ...edgeChoices(bar.length).map((edges) =>
            lost(
              bar.map(({ wants }) => wants),
              bar.map((piece, k) => (piece.width >= width - close ? 2 : edges.includes(k) ? 1 : 0)),
            ),
          ),
        ),
      );
      offer([sum(joints), crosses + sum(inner)]);
    }
  }
  return best;
}

/** Fewest sheets, then cut edges at joints, then cuts, over every sharing of the pieces among stock boards. */
export function searchCuttings(
  pieces: readonly BrutePiece[],
  width: number,
  length: number,
): readonly [sheets: number, cutJoints: number, cuts: number] {
  const known = new Map<string, Price | null>();
  const priceOf = (group: readonly BrutePiece[]) => {
    const key = group
      .map((p) => `${p.width} ${p.length} ${p.wants}`)
      .sort()
      .join();
    if (!known.has(key)) known.set(key, priceSheet(group, width, length));
    return known.get(key)!;
  };
  let best: readonly [number, number, number] = [Infinity, Infinity, Infinity];
  for (const groups of partitions(pieces)) {
    if (groups.length > best[0]) continue;
    const prices = groups.map(priceOf);
    if (prices.some((price) => price === null)) continue;
    const total = [groups.length, sum(prices.map((p) => p[0])), sum(prices.map((p) => p[1]))] as const;
    if (isLess(total, best)) best = total;
  }
  return best;
}
