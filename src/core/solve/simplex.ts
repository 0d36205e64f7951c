/**
 * Minimises a function of a few variables by the simplex of Nelder & Mead (1965, The Computer Journal 7(4)), standard
 * coefficients; the first simplex has edges of `size`, and it ends when all its corners lie within `tolerance`.
 * @example minimizeSimplex(([x]) => (x - 2) ** 2, [0], 1, 1e-6).map((x) => Math.round(x * 1e4) / 1e4) // [2]
 */
export function minimizeSimplex(
  cost: (point: readonly number[]) => number,
  start: readonly number[],
  size: number,
  tolerance: number,
): number[] {
  const n = start.length;
  const corner = (point: number[]) => ({ point, cost: cost(point) });
  const corners = [corner([...start])];
  for (let k = 0; k < n; k++) corners.push(corner(start.map((x, i) => (i === k ? x + size : x))));
  for (let round = 0; round < 100 * n; round++) {
    corners.sort((a, b) => a.cost - b.cost);
    const best = corners[0]!;
    const worst = corners[n]!;
    const spread = Math.max(
      ...corners.map(({ point }) => Math.max(...point.map((x, i) => Math.abs(x - best.point[i]!)))),
    );
    if (spread < tolerance) break;
    const centre = start.map((_, i) =>
      corners.slice(0, n).reduce((sum, { point }) => sum + point[i]! / n, 0),
    );
    const along = (step: number) => corner(centre.map((x, i) => x + step * (worst.point[i]! - x)));
    const mirrored = along(-1);
    if (mirrored.cost < best.cost) {
      const further = along(-2);
      corners[n] = further.cost < mirrored.cost ? further : mirrored;
    } else if (mirrored.cost < corners[n - 1]!.cost) {
      corners[n] = mirrored;
    } else {
      const closer = mirrored.cost < worst.cost ? along(-0.5) : along(0.5);
      if (closer.cost < Math.min(mirrored.cost, worst.cost)) corners[n] = closer;
      else
        for (let k = 1; k <= n; k++)
          corners[k] = corner(corners[k]!.point.map((x, i) => (x + best.point[i]!) / 2));
    }
  }
  corners.sort((a, b) => a.cost - b.cost);
  return corners[0]!.point;
}
