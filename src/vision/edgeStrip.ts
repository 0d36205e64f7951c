import type { ImagePoint } from '../core/camera/frames.ts';
import type { Picture } from './picture.ts';

/**
 * The light beside a straight line through a picture, read square to it: `rows` places along it, one px apart, each with
 * `width` places across, of which `reach` is the line itself. Row by row.
 */
export interface Strip {
  readonly rows: number;
  readonly width: number;
  readonly reach: number;
  readonly light: Float32Array;
}

/** sRGB to linear light. Source: IEC 61966-2-1. */
const LINEAR = Float32Array.from({ length: 256 }, (_, value) => {
  const share = value / 255;
  return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
});

/**
 * Reads a strip of linear luminance (Rec. 709) between two places of a picture (px), `reachPx` and a margin to either side, by
 * bilinear interpolation; beyond the picture the nearest pixel.
 */
export function readStrip(
  picture: Picture,
  from: ImagePoint,
  to: ImagePoint,
  reachPx: number,
  marginPx: number,
): Strip {
  const length = Math.hypot(to.u - from.u, to.v - from.v);
  const [tu, tv] = [(to.u - from.u) / length, (to.v - from.v) / length];
  const rows = Math.floor(length) + 1;
  const reach = reachPx + marginPx;
  const width = 2 * reach + 1;
  const light = new Float32Array(rows * width);
  const { widthPx, heightPx, rgba } = picture;
  const luminance = (u: number, v: number): number => {
    const at = 4 * (Math.min(heightPx - 1, Math.max(0, v)) * widthPx + Math.min(widthPx - 1, Math.max(0, u)));
    return 0.2126 * LINEAR[rgba[at]!]! + 0.7152 * LINEAR[rgba[at + 1]!]! + 0.0722 * LINEAR[rgba[at + 2]!]!;
  };
  for (let row = 0; row < rows; row++)
    for (let j = 0; j < width; j++) {
      const u = from.u + row * tu - (j - reach) * tv;
      const v = from.v + row * tv + (j - reach) * tu;
      const [u0, v0] = [Math.floor(u), Math.floor(v)];
      const [fu, fv] = [u - u0, v - v0];
      light[row * width + j] =
        (1 - fv) * ((1 - fu) * luminance(u0, v0) + fu * luminance(u0 + 1, v0)) +
        fv * ((1 - fu) * luminance(u0, v0 + 1) + fu * luminance(u0 + 1, v0 + 1));
    }
  return { rows, width, reach, light };
}
