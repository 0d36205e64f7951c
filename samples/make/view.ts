import { rayFromImage, type Camera } from '../../src/core/camera/camera.ts';
import type { TrueWall } from './wall.ts';

/**
 * Where the picture's rays meet the wall's smooth surface, on a lattice of pixels; between them these places change so
 * evenly that a straight line is exact to a hundredth of a millimetre.
 */
export interface View {
  readonly step: number;
  readonly columns: number;
  readonly along: Float64Array;
  readonly up: Float64Array;
  readonly out: Float64Array;
}

/** Meets every lattice ray with the smooth surface, by fixed-point iteration on the wall's offset. */
export function castView(camera: Camera, wall: TrueWall, step: number): View {
  const columns = Math.ceil(camera.widthPx / step) + 1;
  const rows = Math.ceil(camera.heightPx / step) + 1;
  const along = new Float64Array(columns * rows);
  const up = new Float64Array(columns * rows);
  const out = new Float64Array(columns * rows);
  for (let j = 0; j < rows; j++)
    for (let i = 0; i < columns; i++) {
      const at = j * columns + i;
      const ray = rayFromImage(camera, { u: i * step, v: j * step });
      if (ray.out > -0.05)
        throw new Error(`expected a camera that faces the wall, got a ray going ${ray.out}`);
      out[at] = wall.plan.out;
      for (let turn = 0; turn < 8; turn++) {
        const t = (out[at] - camera.position.out) / ray.out;
        along[at] = camera.position.along + t * ray.along;
        up[at] = camera.position.up + t * ray.up;
        out[at] = wall.smoothMm(along[at], up[at]);
      }
    }
  return { step, columns, along, up, out };
}

/** Fills rows `along`, `up`, `out` with the places that picture row `v` sees. */
export function fillRow(
  view: View,
  v: number,
  along: Float64Array,
  up: Float64Array,
  out: Float64Array,
): void {
  const { step, columns } = view;
  const j = Math.floor(v / step);
  const fy = v / step - j;
  for (const [source, row] of [
    [view.along, along],
    [view.up, up],
    [view.out, out],
  ] as const)
    for (let u = 0; u < row.length; u++) {
      const i = Math.floor(u / step);
      const fx = u / step - i;
      const at = j * columns + i;
      const high = source[at]! + fx * (source[at + 1]! - source[at]!);
      const low = source[at + columns]! + fx * (source[at + columns + 1]! - source[at + columns]!);
      row[u] = high + fy * (low - high);
    }
}
