import type { Highs, ModelData } from 'highs';
import type { Programme, ProgrammeEnd, ProgrammeSolver } from '../../src/core/lining/programme.ts';

/** How exactly rows are kept and costs compared: lengths are mm, and 1e-9 of one is nothing. */
const EXACT = 1e-9;
/** Nodes of a search before it stops with what it has: seconds on a phone. */
const NODES_MOST = 20_000;

function packProgramme({ unknowns, rows }: Programme): ModelData {
  const starts = new Int32Array(rows.length + 1);
  rows.forEach(({ terms }, k) => (starts[k + 1] = starts[k]! + terms.length));
  const indices = new Int32Array(starts[rows.length]!);
  const values = new Float64Array(indices.length);
  rows.forEach(({ terms }, k) =>
    terms.forEach(([unknown, factor], at) => {
      indices[starts[k]! + at] = unknown;
      values[starts[k]! + at] = factor;
    }),
  );
  return {
    numCols: unknowns.length,
    numRows: rows.length,
    colCost: Float64Array.from(unknowns, ({ cost }) => cost),
    colLower: Float64Array.from(unknowns, ({ lower }) => lower),
    colUpper: Float64Array.from(unknowns, ({ upper }) => upper),
    rowLower: Float64Array.from(rows, ({ lower }) => lower),
    rowUpper: Float64Array.from(rows, ({ upper }) => upper),
    matrix: { format: 'csr', numRows: rows.length, numCols: unknowns.length, starts, indices, values },
    ...(unknowns.some(({ whole }) => whole)
      ? { integrality: Int32Array.from(unknowns, ({ whole }) => (whole ? 1 : 0)) }
      : {}),
  };
}

/** The solver of linear programmes that HiGHS makes; one thread, seeded, stopped by nodes and not by time. */
export function makeSolver(highs: Highs): ProgrammeSolver {
  const { modelStatus } = highs.constants;
  return (programme, { nodesMost = NODES_MOST } = {}) =>
    highs.withModel(packProgramme(programme), (model): ProgrammeEnd => {
      const isWhole = programme.unknowns.some(({ whole }) => whole);
      model.options.set({
        output_flag: false,
        primal_feasibility_tolerance: EXACT,
        dual_feasibility_tolerance: EXACT,
        mip_feasibility_tolerance: EXACT,
        mip_rel_gap: 0,
        mip_abs_gap: EXACT,
        mip_max_nodes: nodesMost,
        ...(isWhole ? {} : { solver: 'simplex' }),
      });
      model.run();
      const status = model.getModelStatus();
      if (status === modelStatus.infeasible) return { ended: 'infeasible', at: null, cost: NaN, bound: NaN };
      if (status === modelStatus.unbounded || status === modelStatus.unboundedOrInfeasible)
        return { ended: 'unbounded', at: null, cost: NaN, bound: -Infinity };
      const cost = model.getObjectiveValue();
      const isFound = Number.isFinite(cost) && model.info.get('primal_solution_status') === 2;
      const at = isFound ? model.getSolution().colValue : null;
      const ended = status === modelStatus.optimal ? 'optimal' : 'stopped';
      const bound =
        ended === 'optimal' ? cost : isWhole ? Number(model.info.get('mip_dual_bound')) : -Infinity;
      return { ended, at, cost: at ? cost : NaN, bound };
    });
}
