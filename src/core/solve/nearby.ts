import { createAdjustment, levelTarget, placeOnGrid, type GridRow } from './adjustment.ts';
import type { Observation } from './observation.ts';
import { HUBER_LIMIT, nameObservation, type Settled, type Task } from './settle.ts';
import { multiplyRows, solveRow, updateBordered, type SolvedRow } from './update.ts';

/** More rows than this are cheaper solved afresh. */
const MOST_ROWS = 64;
/** Times that the Huber weights of new points are renewed, and the change of one that is none. */
const REWEIGHS = 6;
const STILL_WEIGHT = 0.01;

/** Evidence of a settled network that is no longer what it was: from which of the observations before to which now, null = none. */
interface Change {
  readonly before: number | null;
  readonly after: number | null;
}

/**
 * A settled network and the observations it is to be solved with instead, linear at the same state: what is the same in both is found once,
 * and each solve is a change of the factor by the rows that are not.
 */
export class Nearby {
  /** For each observation now the same one before, -1 = there is none. */
  private readonly same: Int32Array;
  private readonly changes: readonly Change[];
  private readonly solved = new Map<GridRow, SolvedRow>();
  private readonly rowsBefore = new Map<number, GridRow>();
  private readonly rowsNow = new Map<number, GridRow>();

  constructor(
    private readonly base: Settled,
    readonly observations: readonly Observation[],
  ) {
    const { same, gone } = matchObservations(base.observations, observations);
    this.same = same;
    const fresh = Array.from(same.keys()).filter((after) => same[after] === -1);
    this.changes = [
      ...gone.map((before) => ({ before, after: null })),
      ...fresh.map((after) => ({ before: null, after })),
    ];
  }

  /** Whether so little is changed that this is the quicker way. */
  get isNear(): boolean {
    return this.changes.length <= MOST_ROWS;
  }

  /** Names of the observations that say something else than before. */
  listRestated(): Set<string> {
    const { base, observations, same } = this;
    const said = observations.filter((observation, after) => {
      const before = base.observations[same[after]!];
      return before?.target !== observation.target;
    });
    return new Set(said.map(nameObservation));
  }

  /**
   * Solves with what a task leaves out; null where that is too far off. The points' weights are those of before; of those that are new, the ones
   * given or Huber's.
   */
  settle(task: Task, given?: Float64Array): Settled | null {
    const { base, observations, same } = this;
    const weights = Float64Array.from(observations, (observation, after) => {
      const failed = task.leftOut.get(nameObservation(observation));
      if (failed) return failed.weight;
      if (observation.kind !== 'point') return 1;
      return given ? given[after]! : same[after]! < 0 ? 1 : base.weights[same[after]!]!;
    });
    const reweighed = same.reduce<number[]>(
      (list, before, after) =>
        before < 0 && !given && observations[after]!.kind === 'point' ? [...list, after] : list,
      [],
    );
    for (let turn = 1; ; turn++) {
      const settled = this.solve(task, weights);
      if (!settled) return null;
      let moved = 0;
      for (const after of reweighed) {
        const { sigma } = this.rowNow(after);
        const size = Math.abs(this.missOf(settled, after)) / sigma;
        const weight = size <= HUBER_LIMIT ? 1 : HUBER_LIMIT / size;
        moved = Math.max(moved, Math.abs(weight - weights[after]!));
        weights[after] = weight;
      }
      if (moved < STILL_WEIGHT || turn === REWEIGHS) return settled;
    }
  }

  private solve(task: Task, weights: Float64Array): Settled | null {
    const { base, observations, same } = this;
    const { field, unknowns, factor } = base.adjustment;
    const rows: SolvedRow[] = [];
    const information: number[] = [];
    const pull: number[] = [];
    const level = (observation: Observation) => levelTarget(base.adjustment.model, observation);
    const take = (row: GridRow, from: number, fromTarget: number, to: number, toTarget: number) => {
      const [before, after] = [from / row.sigma ** 2, to / row.sigma ** 2];
      const now = multiplyRows(row, { row, x: field, y: unknowns });
      rows.push(this.solveRow(row));
      information.push(after - before);
      pull.push(after * (toTarget - now) - before * (fromTarget - now));
    };
    for (const { before, after } of this.changes) {
      const weight = before === null ? weights[after!]! : base.weights[before]!;
      if (weight === 0) continue;
      if (before === null) take(this.rowNow(after!), 0, 0, weight, level(observations[after!]!));
      else take(this.rowBefore(before), weight, level(base.observations[before]!), 0, 0);
    }
    same.forEach((before, after) => {
      if (before < 0) return;
      const [from, to] = [base.weights[before]!, weights[after]!];
      const [fromTarget, toTarget] = [level(base.observations[before]!), level(observations[after]!)];
      if (from === to && (fromTarget === toTarget || to === 0)) return;
      take(this.rowNow(after), from, fromTarget, to, toTarget);
    });
    if (rows.length > MOST_ROWS) return null;
    const updated = rows.length === 0 ? factor : updateBordered(factor, rows, information);
    if (!updated) return null;
    const x = field.slice();
    const y = unknowns.slice();
    const shares = spreadPull(rows, pull, updated.update?.middle);
    rows.forEach((row, k) => {
      for (let node = 0; node < x.length; node++) x[node]! += shares[k]! * row.x[node]!;
      for (let q = 0; q < y.length; q++) y[q]! += shares[k]! * row.y[q]!;
    });
    return {
      state: base.state,
      observations,
      weights,
      adjustment: createAdjustment(task.model, x, y, updated),
    };
  }

  /** Observed less adjusted of a point now. */
  private missOf({ adjustment: { field, unknowns } }: Settled, after: number): number {
    const row = this.rowNow(after);
    const target = levelTarget(this.base.adjustment.model, this.observations[after]!);
    return target - multiplyRows(row, { row, x: field, y: unknowns });
  }

  private rowNow(after: number): GridRow {
    return this.recall(this.rowsNow, after, this.observations);
  }

  private rowBefore(before: number): GridRow {
    return this.recall(this.rowsBefore, before, this.base.observations);
  }

  private recall(rows: Map<number, GridRow>, at: number, observations: readonly Observation[]): GridRow {
    const row = rows.get(at) ?? placeOnGrid(this.base.adjustment.model, observations[at]!);
    rows.set(at, row);
    return row;
  }

  private solveRow(row: GridRow): SolvedRow {
    const solved = this.solved.get(row) ?? solveRow(this.base.adjustment.factor, row);
    this.solved.set(row, solved);
    return solved;
  }
}

/** How much of each solved row the solution gains: H'^-1 A c = W (c - M A'W c). */
function spreadPull(
  rows: readonly SolvedRow[],
  pull: readonly number[],
  middle: Float64Array = new Float64Array(0),
): number[] {
  const k = rows.length;
  const across = rows.map(({ row }) =>
    rows.reduce((sum, solved, j) => sum + multiplyRows(row, solved) * pull[j]!, 0),
  );
  return pull.map((own, i) => across.reduce((left, value, j) => left - middle[i * k + j]! * value, own));
}

/**
 * Pairs the observations of before with those now: of the same name, in the same order or (of points) at the same place, with the same
 * factors and sigma; targets may differ. `same` as above; `gone` = those before that are not matched.
 */
function matchObservations(
  before: readonly Observation[],
  now: readonly Observation[],
): { same: Int32Array; gone: number[] } {
  const waiting = new Map<string, number[]>();
  before.forEach((observation, at) => {
    const name = keyOf(observation);
    const list = waiting.get(name);
    if (list) list.push(at);
    else waiting.set(name, [at]);
  });
  const same = Int32Array.from(now, (observation) => {
    const list = waiting.get(keyOf(observation)) ?? [];
    const found = list.findIndex((at) => isSame(before[at]!, observation));
    return found < 0 ? -1 : list.splice(found, 1)[0]!;
  });
  return { same, gone: [...waiting.values()].flat().sort((a, b) => a - b) };
}

function keyOf(observation: Observation): string {
  const name = nameObservation(observation);
  return observation.kind === 'point' ? `${name} ${observation.along} ${observation.up}` : name;
}

function isSame(a: Observation, b: Observation): boolean {
  return (
    a.along === b.along &&
    a.up === b.up &&
    a.field === b.field &&
    a.sigma === b.sigma &&
    a.roughness === b.roughness &&
    a.factors.length === b.factors.length &&
    a.factors.every((factor, k) => factor === b.factors[k] && a.unknowns[k] === b.unknowns[k])
  );
}
