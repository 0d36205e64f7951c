import type { BedPlane } from '../../results.ts';
import type { Lining } from '../../survey.ts';
import type { LiningSettings } from '../defaults.ts';

/**
 * A wish on the bed plane out = p + q along + r up: that wp p + wq q + wr r lie between `least` and `most` (mm; of a turn or a
 * lean, mm per m).
 */
export interface PlaneWish {
  readonly wish: string;
  readonly weights: { readonly p: number; readonly q: number; readonly r: number };
  readonly least: number;
  readonly most: number;
}

/**
 * What is wished of the boards' plane: lean, turn unless that is free, and the faces. A face speaks of the boards' face, which lies
 * a board's thickness in front of the bed plane; its tolerance counts where it is to be met.
 * @example gatherWishes({ board: { width: 1200, length: 2400, thickness: 12.5 }, bed: { min: 5, max: 20, packedMax: 40 }, plane: { turn: 'square', squareBy: 3 } }, { faceToleranceMm: 1 })[0] // { wish: 'turn', weights: { p: 0, q: 1000, r: 0 }, least: 3, most: 3 }
 */
export function gatherWishes(
  { plane = {}, board }: Lining,
  { faceToleranceMm }: Pick<LiningSettings, 'faceToleranceMm'>,
): PlaneWish[] {
  const { turn = 'free', squareBy = 0, lean = 0, faces = [] } = plane;
  const turned = turn === 'square' ? squareBy : 0;
  const turns: PlaneWish[] =
    turn === 'free' ? [] : [{ wish: 'turn', weights: { p: 0, q: 1000, r: 0 }, least: turned, most: turned }];
  return [
    ...turns,
    { wish: 'lean', weights: { p: 0, q: 0, r: 1000 }, least: -lean, most: lean },
    ...faces.map(({ id, along, up, distance, rule, tolerance = faceToleranceMm }): PlaneWish => {
      const backOut = -distance - board.thickness;
      return {
        wish: id,
        weights: { p: 1, q: along, r: up },
        least: rule === 'meet' ? backOut - tolerance : rule === 'before' ? backOut : -Infinity,
        most: rule === 'meet' ? backOut + tolerance : rule === 'behind' ? backOut : Infinity,
      };
    }),
  ];
}

/**
 * By how much a plane misses a wish, in the wish's unit; 0 where it keeps it.
 * @example missWish({ p: -55, q: 0, r: 0.004 }, { wish: 'lean', weights: { p: 0, q: 0, r: 1000 }, least: -3, most: 3 }) // 1
 */
export function missWish({ p, q, r }: BedPlane, { weights, least, most }: PlaneWish): number {
  const value = (weights.p && weights.p * p) + weights.q * q + weights.r * r;
  return Math.max(0, least - value, value - most);
}

/** Which wishes may give way to the others: all but plumb (or the lean that is allowed), which can always be kept. `wish`: its number. */
export const mayGiveWay = (wishes: readonly PlaneWish[]) => (wish: number) =>
  wish < wishes.length && wishes[wish]!.wish !== 'lean';
