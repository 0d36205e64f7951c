import type { WallNodes } from '../../../../src/core/lining/plane/wallNodes.ts';
import type { PlaneWish } from '../../../../src/core/lining/plane/wishes.ts';

export type Spot = readonly [along: number, up: number, out: number];

/** Nodes of a wall given spot by spot, all with the same least bed (mm). */
export function gatherSpots(spots: readonly Spot[], needMm = 5): WallNodes {
  return {
    node: Int32Array.from(spots, (_, k) => k),
    along: Float64Array.from(spots, ([along]) => along),
    up: Float64Array.from(spots, ([, up]) => up),
    out: Float64Array.from(spots, ([, , out]) => out),
    needMm: Float64Array.from(spots, () => needMm),
  };
}

/** Wishes that hold the turn and the lean at a most (mm/mm; Infinity = free). */
export function limitSlopes(turnMost: number, leanMost: number): PlaneWish[] {
  return [
    { wish: 'turn', weights: { p: 0, q: 1000, r: 0 }, least: -1000 * turnMost, most: 1000 * turnMost },
    { wish: 'lean', weights: { p: 0, q: 0, r: 1000 }, least: -1000 * leanMost, most: 1000 * leanMost },
  ];
}
