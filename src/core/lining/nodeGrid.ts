/** Values on the surface's nodes: node (i, j) at along = i stepMm, up = j stepMm, stored at j nx + i. */
export interface NodeGrid {
  readonly stepMm: number;
  readonly nx: number;
  readonly ny: number;
  readonly values: Float64Array;
}

/** Mean of the known values among the eight nodes round (i, j); NaN when none is known. */
function meanAround({ nx, ny }: NodeGrid, values: Float64Array, i: number, j: number): number {
  let sum = 0;
  let known = 0;
  for (let jj = Math.max(0, j - 1); jj <= Math.min(ny - 1, j + 1); jj++) {
    for (let ii = Math.max(0, i - 1); ii <= Math.min(nx - 1, i + 1); ii++) {
      const value = values[jj * nx + ii]!;
      if (Number.isNaN(value)) continue;
      sum += value;
      known++;
    }
  }
  return known > 0 ? sum / known : NaN;
}

/**
 * The grid with its NaN nodes filled from their known neighbours, ring by ring, so that a value can be read right up to
 * the edge of an opening. A filled value lies between the known ones round it. At least one node must be known.
 * @example fillNodes({ stepMm: 50, nx: 3, ny: 1, values: Float64Array.of(4, NaN, 6) }).values // Float64Array.of(4, 5, 6)
 */
export function fillNodes(grid: NodeGrid): NodeGrid {
  const { nx } = grid;
  const values = grid.values.slice();
  let holes = [...values.keys()].filter((k) => Number.isNaN(values[k]!));
  while (holes.length > 0) {
    const ring = holes.map((k) => meanAround(grid, values, k % nx, Math.floor(k / nx)));
    holes.forEach((k, at) => (values[k] = ring[at]!));
    const left = holes.filter((k) => Number.isNaN(values[k]!));
    if (left.length === holes.length)
      throw new Error(`fill nodes: expected a known node, got none of ${left.length}`);
    holes = left;
  }
  return { ...grid, values };
}

/**
 * Value at a spot (mm) by bilinear interpolation of a grid without NaN; beyond the grid's ends its edge goes on.
 * @example sampleNodes({ stepMm: 50, nx: 2, ny: 2, values: Float64Array.of(0, 10, 20, 30) }, 25, 25) // 15
 */
export function sampleNodes({ stepMm, nx, ny, values }: NodeGrid, along: number, up: number): number {
  const x = Math.min(Math.max(along / stepMm, 0), nx - 1);
  const y = Math.min(Math.max(up / stepMm, 0), ny - 1);
  const i = Math.min(Math.floor(x), Math.max(nx - 2, 0));
  const j = Math.min(Math.floor(y), Math.max(ny - 2, 0));
  const right = Math.min(i + 1, nx - 1);
  const above = Math.min(j + 1, ny - 1) * nx;
  const a = x - i;
  const b = y - j;
  const low = (1 - a) * values[j * nx + i]! + a * values[j * nx + right]!;
  const high = (1 - a) * values[above + i]! + a * values[above + right]!;
  return (1 - b) * low + b * high;
}
