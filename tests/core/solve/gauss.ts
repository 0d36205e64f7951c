/** Inverse of a small dense matrix by Gauss-Jordan with pivoting: reckoned apart from src/. */
export function invertGauss(rows: readonly (readonly number[])[]): number[][] {
  const n = rows.length;
  const work = rows.map((row, i) => [...row, ...row.map((_, j) => Number(i === j))]);
  for (let k = 0; k < n; k++) {
    let best = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(work[i]![k]!) > Math.abs(work[best]![k]!)) best = i;
    [work[k], work[best]] = [work[best]!, work[k]!];
    const pivot = work[k]![k]!;
    work[k] = work[k]!.map((value) => value / pivot);
    for (let i = 0; i < n; i++) {
      const factor = work[i]![k]!;
      if (i !== k && factor !== 0) work[i] = work[i]!.map((value, j) => value - factor * work[k]![j]!);
    }
  }
  return work.map((row) => row.slice(n));
}
