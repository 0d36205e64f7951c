/** Three numbers: a point, a direction or the coefficients of one row. */
export type Triple = readonly [number, number, number];

/** How a linear programme ended; `active` are the three rows that hold the optimum. */
export interface Optimum {
  readonly ended: 'optimal' | 'infeasible' | 'stalled';
  readonly at: Triple;
  readonly active: Triple;
  readonly iterations: number;
}

type Matrix = readonly [Triple, Triple, Triple];

const dot = (a: Triple, b: Triple) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Triple, b: Triple): Triple => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const scale = (a: Triple, by: number): Triple => [a[0] * by, a[1] * by, a[2] * by];

/** Columns of the inverse of the matrix with rows a, b, c. */
function invertRows([a, b, c]: Matrix): Matrix {
  const bc = cross(b, c);
  const by = 1 / dot(a, bc);
  return [scale(bc, by), scale(cross(c, a), by), scale(cross(a, b), by)];
}

/** The row furthest from holding at `at`, and by how much it fails (0 or less: none does). */
function findWorstRow(rows: Float64Array, at: Triple): { row: number; fails: number } {
  let row = -1;
  let fails = -Infinity;
  for (let i = 0; i < rows.length / 4; i++) {
    const k = 4 * i;
    const short = rows[k + 3]! - (rows[k]! * at[0] + rows[k + 1]! * at[1] + rows[k + 2]! * at[2]);
    if (short > fails) {
      fails = short;
      row = i;
    }
  }
  return { row, fails };
}

const flat = 1e-12;

/** Which active row gives way to a row that is `share` of each: the first to lose its hold under the objectives in turn. */
function chooseLeaving(share: Triple, holds: Matrix): number {
  let best = -1;
  for (let j = 0; j < 3; j++) {
    if (share[j]! <= flat) continue;
    if (best < 0) {
      best = j;
      continue;
    }
    for (const hold of holds) {
      const less = hold[j]! / share[j]! - hold[best]! / share[best]!;
      if (less < -flat) best = j;
      if (Math.abs(less) > flat) break;
    }
  }
  return best;
}

/**
 * Exact optimum of a linear programme in three unknowns x: least `objectives[0] . x`, among equals least
 * `objectives[1] . x`, among those least `objectives[2] . x`, with every row a . x >= b; by the dual simplex method, the
 * row that fails most entering, ties broken lexicographically so that it cannot cycle.
 * `rows`: 4 numbers each, a0 a1 a2 b, all of about size 1; the three objectives must be independent; `start`: three rows
 * that hold the objectives, that is objectives[k] = sum of hold >= 0 times row. Rows that hold nothing (`infeasible`) and
 * running out of iterations (`stalled`) are said in `ended`.
 * Source: Lemke, "The dual method of solving the linear programming problem", Nav. Res. Logist. Q. 1 (1954).
 */
export function solveProgramme(rows: Float64Array, objectives: Matrix, start: Triple): Optimum {
  const rowAt = (i: number): Triple => [rows[4 * i]!, rows[4 * i + 1]!, rows[4 * i + 2]!];
  const most = rows.length / 4 + 100;
  let active = start;
  for (let iterations = 0; ; iterations++) {
    const columns = invertRows([rowAt(active[0]), rowAt(active[1]), rowAt(active[2])]);
    const over = (a: Triple): Triple => [dot(a, columns[0]), dot(a, columns[1]), dot(a, columns[2])];
    const bounds = active.map((i) => rows[4 * i + 3]!);
    const at = [0, 1, 2].map((k) =>
      columns.reduce((sum, column, j) => sum + column[k]! * bounds[j]!, 0),
    ) as unknown as Triple;
    const { row, fails } = findWorstRow(rows, at);
    if (fails <= 1e-10 * (1 + Math.abs(rows[4 * row + 3]!)))
      return { ended: 'optimal', at, active, iterations };
    if (iterations >= most) return { ended: 'stalled', at, active, iterations };
    const holds: Matrix = [over(objectives[0]), over(objectives[1]), over(objectives[2])];
    const leaving = chooseLeaving(over(rowAt(row)), holds);
    if (leaving < 0) return { ended: 'infeasible', at, active, iterations };
    active = active.map((i, j) => (j === leaving ? row : i)) as unknown as Triple;
  }
}
