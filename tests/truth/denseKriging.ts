/** Covariance of a random field as a function of distance. */
export type Covariance = (distance: number) => number;

/**
 * Covariance models with variance `sill` and reach `range`, as the reference values name them. Source: Chiles & Delfiner 1999,
 * Geostatistics, 2.5.1; Matern 3/2 and Gaussian in the form of gstat.
 */
export const covariances = {
  exponential: (sill: number, range: number) => (h: number) => sill * Math.exp(-h / range),
  spherical: (sill: number, range: number) => (h: number) =>
    h >= range ? 0 : sill * (1 - 1.5 * (h / range) + 0.5 * (h / range) ** 3),
  gaussian: (sill: number, range: number) => (h: number) => sill * Math.exp(-((h / range) ** 2)),
  matern32: (sill: number, range: number) => (h: number) => sill * (1 + h / range) * Math.exp(-h / range),
} as const;

/** What is kriged: values at places with the sigma of each, the field's covariance and its trend. */
export interface KrigingTask {
  readonly points: readonly (readonly number[])[];
  readonly values: readonly number[];
  readonly sigmas: readonly number[];
  readonly covariance: Covariance;
  /** Functions whose unknown multiples are the mean: none = simple kriging about `mean`, [1] = ordinary, more = universal. */
  readonly trend: (place: readonly number[]) => readonly number[];
  /** Known mean of simple kriging. */
  readonly mean?: number;
}

export interface Kriged {
  readonly estimate: number;
  /** Of the field itself, without a measurement's error. */
  readonly variance: number;
  readonly weights: readonly number[];
}

/**
 * Exact kriging of a place by the whole dense system, pivoted elimination: nothing shared with the solve in src. Values carry
 * measurement errors, so that a place measured is not reproduced exactly. Source: Cressie 1993, Statistics for Spatial Data, 3.2 and 3.4.
 */
export function krige(task: KrigingTask, places: readonly (readonly number[])[]): Kriged[] {
  const { points, values, sigmas, covariance, trend, mean = 0 } = task;
  const n = points.length;
  const drift = points.map(trend);
  const p = drift[0]!.length;
  const matrix = Array.from({ length: n + p }, (_, i) =>
    Array.from({ length: n + p }, (_, j) => {
      if (i < n && j < n) return covariance(apart(points[i]!, points[j]!)) + (i === j ? sigmas[i]! ** 2 : 0);
      if (i >= n && j >= n) return 0;
      return i < n ? drift[i]![j - n]! : drift[j]![i - n]!;
    }),
  );
  const columns = places.map((place) => [
    ...points.map((point) => covariance(apart(point, place))),
    ...trend(place),
  ]);
  return solveAll(matrix, columns).map((solved, k) => {
    const weights = solved.slice(0, n);
    const reduction = solved.reduce((sum, value, i) => sum + value * columns[k]![i]!, 0);
    return {
      estimate: weights.reduce((sum, weight, i) => sum + weight * (values[i]! - mean), mean),
      variance: covariance(0) - reduction,
      weights,
    };
  });
}

function apart(a: readonly number[], b: readonly number[]): number {
  return Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!);
}

/** Solutions of one matrix for several right-hand sides, Gaussian elimination with partial pivoting. */
function solveAll(
  matrix: readonly (readonly number[])[],
  columns: readonly (readonly number[])[],
): number[][] {
  const n = matrix.length;
  const rows = matrix.map((row, i) => [...row, ...columns.map((column) => column[i]!)]);
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(rows[i]![k]!) > Math.abs(rows[pivot]![k]!)) pivot = i;
    [rows[k], rows[pivot]] = [rows[pivot]!, rows[k]!];
    const top = rows[k]!;
    for (let i = k + 1; i < n; i++) {
      const row = rows[i]!;
      const factor = row[k]! / top[k]!;
      if (factor !== 0) for (let j = k; j < row.length; j++) row[j]! -= factor * top[j]!;
    }
  }
  return columns.map((_, c) => {
    const x = new Array<number>(n).fill(0);
    for (let i = n - 1; i >= 0; i--) {
      let sum = rows[i]![n + c]!;
      for (let j = i + 1; j < n; j++) sum -= rows[i]![j]! * x[j]!;
      x[i] = sum / rows[i]![i]!;
    }
    return x;
  });
}
