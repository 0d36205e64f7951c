import { addToBand, type BandMatrix } from './banded.ts';
import {
  addToBorder,
  addToCorner,
  createBordered,
  factorBordered,
  solveBordered,
  type BorderedFactor,
} from './bordered.ts';
import { buildPrecision, type FieldScale } from './field.ts';
import { locateOnGrid, varianceInCell, type Grid } from './grid.ts';
import { listTrendFactors, TREND, TREND_UNKNOWNS, type Observation } from './observation.ts';
import { findReach } from './reach.ts';
import { stepOut } from './setback.ts';

/** The solver's grid with the field's precision on it: made once for several adjustments. */
export interface FieldModel {
  readonly grid: Grid;
  readonly scale: FieldScale;
  readonly precision: BandMatrix;
}

/** A field model of a grid. */
export function createFieldModel(grid: Grid, scale: FieldScale): FieldModel {
  return { grid, scale, precision: buildPrecision(grid, scale) };
}

/** The most probable field and unknowns, with the factor that their covariances come from. */
export interface Adjustment {
  readonly model: FieldModel;
  /** Field without trend at the nodes, solver's order. */
  readonly field: Float64Array;
  readonly unknowns: Float64Array;
  readonly factor: BorderedFactor;
  /** Offset f = trend + field (mm) at a place on the wall (mm). */
  readonly offsetAt: (alongMm: number, upMm: number) => number;
}

/** An observation on the grid: its non-zero factors on nodes and unknowns, and its whole noise. */
export interface GridRow {
  readonly nodes: readonly number[];
  readonly nodeFactors: readonly number[];
  readonly unknowns: readonly number[];
  readonly factors: readonly number[];
  readonly sigma: number;
}

/** Spreads an observation over the four nodes around it and the trend; what the field does within a cell is noise to it. */
export function placeOnGrid(model: FieldModel, observation: Observation): GridRow {
  const { grid, scale } = model;
  const { along, up, field, unknowns, factors } = observation;
  const own = observation.sigma ** 2 + (observation.roughness * scale.roughMm) ** 2;
  if (field === 0) return { nodes: [], nodeFactors: [], unknowns, factors, sigma: Math.sqrt(own) };
  const place = locateOnGrid(grid, along, up);
  const inCell = varianceInCell(place, grid.stepMm, scale.rangeMm) * scale.sdMm ** 2;
  return {
    nodes: place.nodes,
    nodeFactors: place.weights.map((weight) => field * weight),
    unknowns: [...TREND_UNKNOWNS, ...unknowns],
    factors: [...listTrendFactors(along, up).map((factor) => field * factor), ...factors],
    sigma: Math.sqrt(own + field ** 2 * inCell),
  };
}

/** An observation's target less what the wall's known steps are of it, which neither trend nor field holds. */
export function levelTarget({ grid }: FieldModel, { along, up, field, target }: Observation): number {
  return field === 0 ? target : target - field * stepOut(grid.setbacks, along, up);
}

/**
 * Solves all observations and the field's prior together: normal equations of a band (nodes) and a border that moves along it
 * (the unknowns; the trend reaches every node). `weights` multiply the inverse variances, 0 leaves an observation out; `rows` are the
 * observations on the grid, where they are there already.
 * Source: DEVELOPERS.md "The whole wall"; Rue & Held 2005, Gaussian Markov Random Fields, 2.3.
 */
export function adjust(
  model: FieldModel,
  observations: readonly Observation[],
  weights: Float64Array,
  unknownCount: number,
  rows: readonly GridRow[] = observations.map((observation) => placeOnGrid(model, observation)),
): Adjustment {
  const { precision } = model;
  const n = precision.n;
  const band: BandMatrix = { ...precision, entries: precision.entries.slice() };
  // what has no weight keeps its place too: it is tested against the rest
  const reach = findReach(n, band.bandwidth, unknownCount, rows, TREND_UNKNOWNS);
  const matrix = createBordered(band, unknownCount, reach);
  const field = new Float64Array(n);
  const unknowns = new Float64Array(unknownCount);
  observations.forEach((observation, index) => {
    const weight = weights[index]!;
    if (weight === 0) return;
    const row = rows[index]!;
    const information = weight / row.sigma ** 2;
    const target = levelTarget(model, observation);
    const { nodes, nodeFactors, unknowns: others, factors } = row;
    for (let a = 0; a < nodes.length; a++) {
      const node = nodes[a]!;
      const left = information * nodeFactors[a]!;
      field[node]! += left * target;
      for (let b = 0; b <= a; b++) addToBand(band, node, nodes[b]!, left * nodeFactors[b]!);
      for (let b = 0; b < others.length; b++) addToBorder(matrix, others[b]!, node, left * factors[b]!);
    }
    for (let a = 0; a < others.length; a++) {
      const left = information * factors[a]!;
      unknowns[others[a]!]! += left * target;
      for (let b = 0; b <= a; b++) addToCorner(matrix, others[a]!, others[b]!, left * factors[b]!);
    }
  });
  const factor = factorBordered(matrix);
  solveBordered(factor, field, unknowns);
  return createAdjustment(model, field, unknowns, factor);
}

/** An adjustment from its solution. */
export function createAdjustment(
  model: FieldModel,
  field: Float64Array,
  unknowns: Float64Array,
  factor: BorderedFactor,
): Adjustment {
  const { grid } = model;
  const trend = unknowns.slice(0, TREND);
  const offsetAt = (alongMm: number, upMm: number): number => {
    const { nodes, weights: shares } = locateOnGrid(grid, alongMm, upMm);
    let offset = stepOut(grid.setbacks, alongMm, upMm);
    nodes.forEach((node, k) => (offset += shares[k]! * field[node]!));
    listTrendFactors(alongMm, upMm).forEach((factor, k) => (offset += factor * trend[k]!));
    return offset;
  };
  return { model, field, unknowns, factor, offsetAt };
}

/** Observed less adjusted, in the observation's unit. */
export function findResidual(adjustment: Adjustment, observation: Observation): number {
  const { along, up, field, unknowns, factors, target } = observation;
  let residual = target - (field === 0 ? 0 : field * adjustment.offsetAt(along, up));
  unknowns.forEach((q, k) => (residual -= factors[k]! * adjustment.unknowns[q]!));
  return residual;
}
