import { leastSquares } from '../core/checks/leastSquares.ts';
import { medianOf } from '../core/line/running.ts';
import { detail, type Grey } from './grey.ts';

/** Side of the tiles (px of the reduced pictures) whose own shift is read, and of the square that fine structure is taken from. */
const TILE_PX = 32;
const DETAIL_PX = 9;
const ROUNDS = 10;
/** A tile that is off by so many times the middle one counts for half. */
const HALF_AT = 2;

/** The map that does `second` and then `first` (homographies, row by row). */
export const multiplyMaps = (first: readonly number[], second: readonly number[]): number[] =>
  Array.from({ length: 9 }, (_, i) => {
    const [row, column] = [3 * Math.floor(i / 3), i % 3];
    return (
      first[row]! * second[column]! +
      first[row + 1]! * second[column + 3]! +
      first[row + 2]! * second[column + 6]!
    );
  });

/** One component of a tile's shift (px): along the direction (x, y), with its sigma but for the noise they all share. */
interface TileShift {
  readonly at: readonly [number, number];
  readonly towards: readonly [number, number];
  readonly shift: number;
  readonly sigma: number;
}

/**
 * A map between two grey pictures set right on the wall alone: the shift that is left in every tile (Lucas and Kanade 1981), and
 * the affine change that most tiles agree on. Floor, side walls and what is seen through a window move otherwise when the phone
 * does; they are the few that count little (Cauchy weights).
 */
export function settleOnWall(on: Grey, off: Grey, map: readonly number[]): number[] {
  const shifts = readShifts(on, off, map);
  if (shifts.length < 24) return [...map];
  const [midX, midY] = [on.width / 2, on.height / 2];
  const design = Float64Array.from(
    shifts.flatMap(({ at: [x, y], towards: [p, q] }) => {
      const [u, v] = [(x - midX) / midX, (y - midY) / midX];
      return [p, p * u, p * v, q, q * u, q * v];
    }),
  );
  const observed = Float64Array.from(shifts, ({ shift }) => shift);
  let sigmas = Float64Array.from(shifts, ({ sigma }) => sigma);
  let solution = new Float64Array(6);
  for (let round = 0; round < ROUNDS; round++) {
    const fit = leastSquares(design, 6, observed, sigmas);
    solution = fit.solution.slice();
    const off = Array.from(fit.residuals, (residual, i) => Math.abs(residual) / shifts[i]!.sigma);
    const scale = HALF_AT * Math.max(1e-6, medianOf(off));
    sigmas = Float64Array.from(shifts, ({ sigma }, i) => sigma * Math.sqrt(1 + (off[i]! / scale) ** 2));
  }
  const [a, b, c, d, e, f] = solution as unknown as [number, number, number, number, number, number];
  const affine = [
    ...[1 + b / midX, c / midX, a - (b * midX + c * midY) / midX],
    ...[e / midX, 1 + f / midX, d - (e * midX + f * midY) / midX],
    ...[0, 0, 1],
  ];
  return multiplyMaps(map, affine);
}

function readShifts(on: Grey, off: Grey, map: readonly number[]): TileShift[] {
  const { width, height } = on;
  const target = detail(on, DETAIL_PX);
  const seen = detail({ width, height, values: warp(off, map, width, height) }, DETAIL_PX);
  const shifts: TileShift[] = [];
  for (let top = DETAIL_PX; top + TILE_PX < height - DETAIL_PX; top += TILE_PX)
    for (let left = DETAIL_PX; left + TILE_PX < width - DETAIL_PX; left += TILE_PX) {
      let [xx, xy, yy, xd, yd] = [0, 0, 0, 0, 0];
      for (let y = top; y < top + TILE_PX; y++)
        for (let x = left; x < left + TILE_PX; x++) {
          const i = y * width + x;
          const [gx, gy] = [(seen[i + 1]! - seen[i - 1]!) / 2, (seen[i + width]! - seen[i - width]!) / 2];
          const apart = target[i]! - seen[i]!;
          xx += gx * gx;
          xy += gx * gy;
          yy += gy * gy;
          xd += gx * apart;
          yd += gy * apart;
        }
      // what the tile tells well and what it tells badly: the two axes of its ellipse
      const angle = Math.atan2(2 * xy, xx - yy) / 2;
      for (const turn of [angle, angle + Math.PI / 2]) {
        const [p, q] = [Math.cos(turn), Math.sin(turn)];
        const strength = p * p * xx + 2 * p * q * xy + q * q * yy;
        if (strength < 1) continue;
        const shift = (p * xd + q * yd) / strength;
        const at = [left + TILE_PX / 2, top + TILE_PX / 2] as const;
        shifts.push({ at, towards: [p, q], shift, sigma: 1 / Math.sqrt(strength) });
      }
    }
  return shifts;
}

/** A grey picture as seen through a map, between its places; its border goes on beyond it. */
function warp({ width, height, values }: Grey, map: readonly number[], toWidth: number, toHeight: number) {
  return Float32Array.from({ length: toWidth * toHeight }, (_, i) => {
    const [x, y] = [i % toWidth, Math.floor(i / toWidth)];
    const w = map[6]! * x + map[7]! * y + map[8]!;
    const u = (map[0]! * x + map[1]! * y + map[2]!) / w;
    const v = (map[3]! * x + map[4]! * y + map[5]!) / w;
    const left = Math.min(width - 2, Math.max(0, Math.floor(u)));
    const top = Math.min(height - 2, Math.max(0, Math.floor(v)));
    const p = Math.min(1, Math.max(0, u - left));
    const q = Math.min(1, Math.max(0, v - top));
    const k = top * width + left;
    const above = (1 - p) * values[k]! + p * values[k + 1]!;
    return (1 - q) * above + q * ((1 - p) * values[k + width]! + p * values[k + width + 1]!);
  });
}
