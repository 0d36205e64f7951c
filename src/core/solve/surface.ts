import type { Surface } from '../results.ts';
import { isLined } from '../lining/linedNodes.ts';
import type { Wall } from '../survey.ts';
import type { Adjustment } from './adjustment.ts';
import { findVariance, invertBordered } from './borderedInverse.ts';
import { indexNode } from './grid.ts';
import { ROUGH_ANYWHERE } from './linearize.ts';
import { listTrendFactors, TREND_UNKNOWNS } from './observation.ts';
import { stepOut } from './setback.ts';

/**
 * The wall as solved: offset and sigma (mm) at the nodes, row by row from the floor; NaN where there is no wall. sigma is that of
 * the wall as a screw meets it, so it holds the roughness finer than the field.
 */
export function readSurface(wall: Wall, { model, field, unknowns, factor }: Adjustment): Surface {
  const { grid, scale } = model;
  const { nx, ny, stepMm } = grid;
  const n = nx * ny;
  const inverse = invertBordered(factor);
  const out = new Float64Array(n).fill(NaN);
  const sigma = new Float64Array(n).fill(NaN);
  for (let at = 0; at < n; at++) {
    const i = at % nx;
    const j = Math.floor(at / nx);
    const along = i * stepMm;
    const up = j * stepMm;
    if (!isLined(wall, along, up)) continue;
    const node = indexNode(grid, i, j);
    const trend = listTrendFactors(along, up);
    out[at] = trend.reduce(
      (sum, share, k) => sum + share * unknowns[k]!,
      field[node]! + stepOut(grid.setbacks, along, up),
    );
    const variance = findVariance(inverse, [node], [1], TREND_UNKNOWNS, trend);
    sigma[at] = Math.hypot(Math.sqrt(variance), ROUGH_ANYWHERE * scale.roughMm);
  }
  return { stepMm, nx, ny, out, sigma };
}

/** Sigma over which a spot is uncertain (mm), and the share of the wall from which that is told. */
const UNCERTAIN_MM = 3;
const UNCERTAIN_SHARE = 0.1;

/** Whether more than a tenth of the wall has a sigma over 3 mm. */
export function isUncertain(surface: Surface): boolean {
  const known = surface.sigma.filter((sigma) => !Number.isNaN(sigma));
  return known.filter((sigma) => sigma > UNCERTAIN_MM).length > UNCERTAIN_SHARE * known.length;
}
