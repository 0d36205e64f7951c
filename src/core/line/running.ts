/** Median of the finite values, NaN when there is none. @example medianOf([3, NaN, 1, 2]) // 2 */
export function medianOf(values: ArrayLike<number>): number {
  const finite = Float64Array.from(values)
    .filter((value) => Number.isFinite(value))
    .sort();
  if (finite.length === 0) return NaN;
  const middle = finite.length >> 1;
  return finite.length % 2 ? finite[middle]! : (finite[middle - 1]! + finite[middle]!) / 2;
}

/**
 * Median of the finite values within `reach` of each place, taken only at every `stride`-th place and
 * interpolated between.
 * @example runningMedian(new Float64Array([1, 1, 9, 1, 1]), 1, 1) // [1, 1, 1, 1, 1]
 */
export function runningMedian(values: Float64Array, reach: number, stride: number): Float64Array {
  const out = new Float64Array(values.length);
  const window = new Float64Array(2 * reach + 1);
  const at = (place: number): number => {
    let count = 0;
    for (let i = Math.max(0, place - reach); i <= Math.min(values.length - 1, place + reach); i++)
      if (Number.isFinite(values[i]!)) window[count++] = values[i]!;
    if (count === 0) return NaN;
    const sorted = window.subarray(0, count).sort();
    return count % 2 ? sorted[count >> 1]! : (sorted[(count >> 1) - 1]! + sorted[count >> 1]!) / 2;
  };
  let before = at(0);
  for (let i = 0; i < values.length; i += stride) {
    const next = Math.min(values.length - 1, i + stride);
    const after = at(next);
    for (let j = i; j <= next; j++)
      out[j] = next === i ? before : before + ((after - before) * (j - i)) / (next - i);
    before = after;
  }
  return out;
}

/** Values `from` to `to` - 1 in rising order, for so few of them that insertion is quickest (Knuth, vol. 3, 5.2.1). */
export function sortFew(values: ArrayLike<number>, from: number, to: number): number[] {
  const sorted: number[] = [];
  for (let k = from; k < to; k++) {
    const value = values[k]!;
    let at = sorted.length;
    sorted.push(value);
    for (; at > 0 && sorted[at - 1]! > value; at--) sorted[at] = sorted[at - 1]!;
    sorted[at] = value;
  }
  return sorted;
}
