/** One row of a programme: lower <= sum of factor x unknown <= upper. */
export interface ProgrammeRow {
  readonly terms: readonly (readonly [unknown: number, factor: number])[];
  readonly lower: number;
  readonly upper: number;
}

/** One unknown of a programme: what a unit of it costs, its range, and whether it is a whole number. */
export interface ProgrammeUnknown {
  readonly cost: number;
  readonly lower: number;
  readonly upper: number;
  readonly whole?: boolean;
}

/** A linear programme, of whole numbers where its unknowns say so: the least cost with every row kept. */
export interface Programme {
  readonly unknowns: readonly ProgrammeUnknown[];
  readonly rows: readonly ProgrammeRow[];
}

/**
 * How a programme ended: `optimal` = proven; `stopped` = the best that was found within the limit, or nothing (`at` null);
 * `bound` = what the cost was proven to be at least.
 */
export interface ProgrammeEnd {
  readonly ended: 'optimal' | 'stopped' | 'infeasible' | 'unbounded';
  readonly at: Float64Array | null;
  readonly cost: number;
  readonly bound: number;
}

/** How hard to try: nodes of the search of a programme of whole numbers, so that the answer does not hang on the clock. */
export interface ProgrammeLimits {
  readonly nodesMost?: number;
}

/**
 * Solves a programme: handed to the core by whoever runs it, as the core imports no package (HiGHS; workers/highs).
 * Same programme, same answer.
 */
export type ProgrammeSolver = (programme: Programme, limits?: ProgrammeLimits) => ProgrammeEnd;

/** Share done, 0 to 1, told on the way. */
export type Progress = (share: number) => void;
