import { adjust, createFieldModel, placeOnGrid } from '../../src/core/solve/adjustment.ts';
import { readBand } from '../../src/core/solve/banded.ts';
import { invertBordered, findVariance } from '../../src/core/solve/borderedInverse.ts';
import { factorDense, solveDenseLower, solveDenseUpper } from '../../src/core/solve/dense.ts';
import { createGrid } from '../../src/core/solve/grid.ts';
import type { Kept } from '../../src/core/solve/solve.ts';

const MOST_NODES = 1500;
const STEPS_MM = [75, 100, 125, 150, 200, 250, 300, 400];

/** How the sparse solve of a wall differs from a dense one of the same model on a grid of at most 1500 nodes. */
export interface DenseComparison {
  readonly nodes: number;
  readonly stepMm: number;
  /** Time of the dense solve over that of the sparse one. */
  readonly ratio: number;
  /** Greatest difference of the field and of its sigma at a node (mm). */
  readonly mean: number;
  readonly sigma: number;
}

/** Solves the observations of a kept solve sparsely and with one dense Cholesky factor. */
export function compareDensely({ survey, coarse }: Kept): DenseComparison {
  const { task, settled } = coarse;
  const grids = STEPS_MM.map((stepMm) => createGrid(survey.wall, stepMm));
  const grid = grids.find(({ nx, ny }) => nx * ny <= MOST_NODES) ?? grids.at(-1)!;
  const model = createFieldModel(grid, task.model.scale);
  const n = model.precision.n;
  const m = settled.adjustment.unknowns.length;
  const start = process.cpuUsage();
  const sparse = adjust(model, settled.observations, settled.weights, m);
  const inverse = invertBordered(sparse.factor);
  const sparseMs = process.cpuUsage(start).user;

  const startDense = process.cpuUsage();
  const size = n + m;
  const matrix = new Float64Array(size * size);
  const x = new Float64Array(size);
  for (let i = 0; i < n; i++)
    for (let j = Math.max(0, i - model.precision.bandwidth); j <= i; j++)
      matrix[i * size + j] = readBand(model.precision, i, j);
  settled.observations.forEach((observation, index) => {
    const { nodes, nodeFactors, unknowns, factors, sigma } = placeOnGrid(model, observation);
    const information = settled.weights[index]! / sigma ** 2;
    const at = [...nodes, ...unknowns.map((q) => n + q)];
    const shares = [...nodeFactors, ...factors];
    at.forEach((i, a) => {
      x[i]! += information * shares[a]! * observation.target;
      at.forEach((j, b) => {
        if (j <= i) matrix[i * size + j]! += information * shares[a]! * shares[b]!;
      });
    });
  });
  factorDense(matrix, size);
  solveDenseLower(matrix, size, x);
  solveDenseUpper(matrix, size, x);
  let [mean, sigma] = [0, 0];
  for (let node = 0; node < n; node++) {
    const column = new Float64Array(size);
    column[node] = 1;
    solveDenseLower(matrix, size, column);
    const own = Math.sqrt(column.reduce((sum, value) => sum + value * value, 0));
    mean = Math.max(mean, Math.abs(x[node]! - sparse.field[node]!));
    sigma = Math.max(sigma, Math.abs(own - Math.sqrt(findVariance(inverse, [node], [1], [], []))));
  }
  const denseMs = process.cpuUsage(startDense).user;
  return { nodes: n, stepMm: grid.stepMm, ratio: denseMs / sparseMs, mean, sigma };
}
