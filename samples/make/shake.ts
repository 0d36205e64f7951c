import type { Radiance } from './scene.ts';

/** How far the picture moved evenly while it was taken (px). */
export interface Shake {
  readonly u: number;
  readonly v: number;
}

/** Spacing of the moments that are summed (px). */
const MOMENT_PX = 0.25;

/** Smears light evenly over the shake, half of it to either side, so that nothing is moved in the mean. */
export function shakeLight(light: Radiance, shake: Shake): Radiance {
  const moments = Math.max(2, Math.ceil(Math.hypot(shake.u, shake.v) / MOMENT_PX));
  const taps = new Map<string, { du: number; dv: number; weight: number }>();
  const add = (du: number, dv: number, weight: number): void => {
    const tap = taps.get(`${du} ${dv}`) ?? { du, dv, weight: 0 };
    tap.weight += weight / moments;
    taps.set(`${du} ${dv}`, tap);
  };
  for (let k = 0; k < moments; k++) {
    const share = (k + 0.5) / moments - 0.5;
    const [u, v] = [share * shake.u, share * shake.v];
    const [du, dv] = [Math.floor(u), Math.floor(v)];
    for (const [i, j] of [
      [0, 0],
      [1, 0],
      [0, 1],
      [1, 1],
    ] as const)
      add(du + i, dv + j, (i ? u - du : 1 - u + du) * (j ? v - dv : 1 - v + dv));
  }
  const smear = (plane: Float32Array): Float32Array => {
    const { widthPx, heightPx } = light;
    const smeared = new Float32Array(plane.length);
    for (const { du, dv, weight } of taps.values())
      for (let v = 0; v < heightPx; v++) {
        const row = Math.min(heightPx - 1, Math.max(0, v + dv)) * widthPx;
        for (let u = 0; u < widthPx; u++)
          smeared[v * widthPx + u]! += weight * plane[row + Math.min(widthPx - 1, Math.max(0, u + du))]!;
      }
    return smeared;
  };
  return { ...light, red: smear(light.red), green: smear(light.green), blue: smear(light.blue) };
}
