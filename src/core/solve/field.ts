import { addToBand, createBand, type BandMatrix } from './banded.ts';
import { indexNode, type Grid } from './grid.ts';

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
 * Source: Lindgren, Rue & Lindstrom 2011, J. R. Statist. Soc. B 73(4), eqs 2 and 10 (alpha = 2 in two dimensions).
 */
export function buildPrecision(grid: Grid, scale: Pick<FieldScale, 'rangeMm' | 'sdMm'>): BandMatrix {
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
        const inside = i + di >= 0 && i + di < nx && j + dj >= 0 && j + dj < ny;
        values[0] += inside ? -near : edge;
        if (!inside) continue;
        nodes[count] = indexNode(grid, i + di, j + dj);
        values[count++] = near;
      }
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
