import { addToBand, createBand, factorBand, invertBand, readBand, type BandMatrix } from './banded.ts';
import { createGrid, indexNode, locateOnGrid, type Grid } from './grid.ts';
import type { Ground } from './ground.ts';

/** What the wall's unevenness is like: range and sd (mm) of the Matern field, sd of the roughness finer than the grid (mm). */
export interface FieldScale {
  readonly rangeMm: number;
  readonly sdMm: number;
  readonly roughMm: number;
}

/**
 * Robin boundary, outward slope = -ROBIN kappa f: with no slope at all (Neumann) the sd is 1.4 times too large at an edge and
 * twice in a corner; with 0.7 it is within 6 % everywhere, no margin needed (tests/core/solve/field.test.ts measures it).
 * Idea: Roininen, Huttunen & Lasanen 2014, Inverse Problems and Imaging 8(2).
 */
const ROBIN = 0.7;

/**
 * Sparse precision of a Matern field (nu = 1, zero mean) at the grid's nodes, as a band matrix:
 * Q = tau^2 h^2 K'K, K = kappa^2 I + L, L the 5-point Laplacian, kappa = sqrt(8) / range, tau^2 = 1 / (4 pi kappa^2 sd^2).
 * No link runs through an opening: its edge is a border as the wall's is. Where there are openings the columns of K are scaled by the
 * spread that the borders leave (`measureSpread`), so that the sd is right in piers and over doors too; nodes in openings stand alone.
 * Source: Lindgren, Rue & Lindstrom 2011, J. R. Statist. Soc. B 73(4), eqs 2 and 10 (alpha = 2 in two dimensions).
 */
export function buildPrecision(grid: Grid, scale: ScaleOfField): BandMatrix {
  return assemblePrecision(grid, scale, grid.ground && measureSpread(grid, grid.ground, scale.rangeMm));
}

type ScaleOfField = Pick<FieldScale, 'rangeMm' | 'sdMm'>;

/** Nodes of the grid that the spread is measured on. */
const SPREAD_NODES = 4000;
/** A spread further off than this is a fault of the coarser grid. */
const LEAST_SPREAD = 0.5;
const MOST_SPREAD = 1.5;

/**
 * The sd that the field has at each node (solver's order) for one of 1, before it is corrected: read from the inverse of its own
 * precision, on a coarser grid where this one is fine, for it changes slowly.
 */
function measureSpread(grid: Grid, { around }: Ground, rangeMm: number): Float64Array {
  const area = grid.nx * grid.ny * grid.stepMm ** 2;
  const coarse = createGrid(around, Math.max(grid.stepMm, Math.sqrt(area / SPREAD_NODES)));
  const inverse = invertBand(factorBand(assemblePrecision(coarse, { rangeMm, sdMm: 1 }, null)));
  const spread = new Float64Array(grid.nx * grid.ny);
  for (let i = 0; i < grid.nx; i++)
    for (let j = 0; j < grid.ny; j++) {
      const { nodes, weights } = locateOnGrid(coarse, i * grid.stepMm, j * grid.stepMm);
      const sd = nodes.reduce(
        (sum, node, k) =>
          weights[k] === 0 ? sum : sum + weights[k]! * Math.sqrt(readBand(inverse, node, node)),
        0,
      );
      spread[indexNode(grid, i, j)] = Math.min(MOST_SPREAD, Math.max(LEAST_SPREAD, sd));
    }
  return spread;
}

function assemblePrecision(grid: Grid, scale: ScaleOfField, spread: Float64Array | null): BandMatrix {
  const { nx, ny, stepMm } = grid;
  const kappa = Math.sqrt(8) / scale.rangeMm;
  const tau2 = 1 / (4 * Math.PI * kappa ** 2 * scale.sdMm ** 2);
  const factor = tau2 * stepMm ** 2;
  const near = -1 / stepMm ** 2;
  const edge = Math.min(1, ROBIN * kappa * stepMm) / stepMm ** 2;
  const band = createBand(nx * ny, 2 * grid.run);
  const nodes = new Int32Array(5);
  const values = new Float64Array(5);
  for (let i = 0; i < nx; i++)
    for (let j = 0; j < ny; j++) {
      let count = 1;
      nodes[0] = indexNode(grid, i, j);
      values[0] = kappa ** 2;
      for (const [di, dj] of NEIGHBOURS) {
        const linked = isLinked(grid, i, j, di, dj);
        values[0] += linked ? -near : edge;
        if (!linked) continue;
        nodes[count] = indexNode(grid, i + di, j + dj);
        values[count++] = near;
      }
      if (spread) for (let k = 0; k < count; k++) values[k]! *= spread[nodes[k]!]!;
      for (let a = 0; a < count; a++)
        for (let b = 0; b <= a; b++) addToBand(band, nodes[a]!, nodes[b]!, factor * values[a]! * values[b]!);
    }
  return band;
}

const NEIGHBOURS = [
  [-1, 0],
  [1, 0],
  [0, -1],
  [0, 1],
] as const;

/** Whether a node and its neighbour are both on the grid and joined by wall. */
function isLinked({ nx, ny, ground }: Grid, i: number, j: number, di: number, dj: number): boolean {
  const [p, q] = [i + di, j + dj];
  if (p < 0 || p >= nx || q < 0 || q >= ny) return false;
  if (ground === null) return true;
  const at = Math.min(j, q) * nx + Math.min(i, p);
  return (di === 0 ? ground.up : ground.right)[at] === 1;
}
