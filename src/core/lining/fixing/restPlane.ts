import type { WallSpot } from '../../survey.ts';

/** A spot that a board may rest on: how far it stands before the plan's plane (mm). */
export interface Rest extends WallSpot {
  readonly offMm: number;
}

/** A plane over the wall: `offMm` before the plan's plane at (0, 0), and its slopes (mm per mm). */
export interface RestPlane {
  readonly offMm: number;
  readonly along: number;
  readonly up: number;
}

/** How far a plane stands before the plan's plane at a spot (mm). @example offAt({ offMm: 1, along: 0.002, up: 0 }, { along: 500, up: 0 }) // 2 */
export function offAt(plane: RestPlane, { along, up }: WallSpot): number {
  return plane.offMm + plane.along * along + plane.up * up;
}

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

/**
 * The plane nearest to the spots by least squares; where they do not tell a slope (one spot, or all in a line) it does not slope that
 * way. Source: normal equations about the centroid, with the smallest ridge that keeps them regular.
 */
export function fitRests(rests: readonly Rest[]): RestPlane {
  if (rests.length === 0) return { offMm: 0, along: 0, up: 0 };
  const [x0, y0, z0] = [
    mean(rests.map(({ along }) => along)),
    mean(rests.map(({ up }) => up)),
    mean(rests.map(({ offMm }) => offMm)),
  ];
  let [xx, xy, yy, xz, yz] = [0, 0, 0, 0, 0];
  for (const { along, up, offMm } of rests) {
    const [x, y, z] = [along - x0, up - y0, offMm - z0];
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xz += x * z;
    yz += y * z;
  }
  // 1e-9 of their own size, and a square millimetre where there is none.
  const ridge = 1e-9 * (xx + yy) + 1;
  const det = (xx + ridge) * (yy + ridge) - xy * xy;
  const slopeAlong = ((yy + ridge) * xz - xy * yz) / det;
  const slopeUp = ((xx + ridge) * yz - xy * xz) / det;
  return { offMm: z0 - slopeAlong * x0 - slopeUp * y0, along: slopeAlong, up: slopeUp };
}

/** The plane through three spots; null where they lie in a line. */
function passThrough(a: Rest, b: Rest, c: Rest): RestPlane | null {
  const [bx, by, bz] = [b.along - a.along, b.up - a.up, b.offMm - a.offMm];
  const [cx, cy, cz] = [c.along - a.along, c.up - a.up, c.offMm - a.offMm];
  const det = bx * cy - by * cx;
  if (Math.abs(det) < 1) return null;
  const along = (bz * cy - by * cz) / det;
  const up = (bx * cz - bz * cx) / det;
  return { offMm: a.offMm - along * a.along - up * a.up, along, up };
}

const triples = (rests: readonly Rest[]) =>
  rests.flatMap((a, i) =>
    rests.slice(i + 1).flatMap((b, j) => rests.slice(i + j + 2).map((c) => [a, b, c] as const)),
  );

/**
 * Where a rigid board comes to lie that is pressed on at its middle: the plane that no spot stands before and that is nearest to the
 * wall there, borne by three spots about the middle. Where no three stand about it, the nearest plane of all, moved out until it clears them.
 * Source: the upper convex hull of the spots over the middle; the best of all triples is its facet there (linear programming duality).
 */
export function restBoard(rests: readonly Rest[], middle: WallSpot): RestPlane {
  const isBearing = (plane: RestPlane) => rests.every((rest) => rest.offMm <= offAt(plane, rest) + 1e-9);
  const planes = triples(rests)
    .map(([a, b, c]) => passThrough(a, b, c))
    .filter((plane) => plane !== null)
    .filter(isBearing);
  const lowest = planes.reduce<RestPlane | null>(
    (best, plane) => (best === null || offAt(plane, middle) < offAt(best, middle) - 1e-12 ? plane : best),
    null,
  );
  if (lowest) return lowest;
  const near = fitRests(rests);
  const out = Math.max(0, ...rests.map((rest) => rest.offMm - offAt(near, rest)));
  return { ...near, offMm: near.offMm + out };
}

/**
 * By how much (mm) the spots fail to lie in one plane: half the distance of the two parallel planes nearest to each other that hold
 * them all between them. 0 for three or fewer.
 * Source: Chebyshev's approximation by a plane; four spots decide it, of which its error is worked out, and the worst four count.
 */
export function measureTwist(rests: readonly Rest[]): number {
  let worst = 0;
  for (let i = 0; i < rests.length; i++)
    for (let j = i + 1; j < rests.length; j++)
      for (let k = j + 1; k < rests.length; k++)
        for (let l = k + 1; l < rests.length; l++)
          worst = Math.max(worst, twistOfFour([rests[i]!, rests[j]!, rests[k]!, rests[l]!]));
  return worst;
}

/**
 * The same of four spots: there is one relation, weights w with sum w = sum w along = sum w up = 0, and the error is
 * |sum w off| / sum |w| (all four off by as much, with the signs of w).
 */
function twistOfFour([a, b, c, d]: readonly [Rest, Rest, Rest, Rest]): number {
  const turn = (p: Rest, q: Rest, r: Rest) =>
    (q.along - p.along) * (r.up - p.up) - (r.along - p.along) * (q.up - p.up);
  const weights = [turn(b, c, d), -turn(a, c, d), turn(a, b, d), -turn(a, b, c)];
  const size = weights.reduce((sum, weight) => sum + Math.abs(weight), 0);
  if (size < 4) return 0;
  const offs = [a.offMm, b.offMm, c.offMm, d.offMm];
  return Math.abs(weights.reduce((sum, weight, m) => sum + weight * offs[m]!, 0)) / size;
}
