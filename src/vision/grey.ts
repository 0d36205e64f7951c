import type { ReducedPicture } from './reduced.ts';

/** A grey picture: the least of the three channels, on which a red or green laser hardly shows. */
export interface Grey {
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
}

/** The least channel of every place of a reduced picture. */
export function leastChannel({ widthPx: width, heightPx: height, rgba }: ReducedPicture): Grey {
  const values = Float32Array.from({ length: width * height }, (_, i) =>
    Math.min(rgba[4 * i]!, rgba[4 * i + 1]!, rgba[4 * i + 2]!),
  );
  return { width, height, values };
}

/** A grey picture at half its size. */
export function halve({ width, height, values }: Grey): Grey {
  const half = { width: width >> 1, height: height >> 1 };
  const means = Float32Array.from({ length: half.width * half.height }, (_, i) => {
    const k = 2 * Math.floor(i / half.width) * width + 2 * (i % half.width);
    return (values[k]! + values[k + 1]! + values[k + width]! + values[k + width + 1]!) / 4;
  });
  return { ...half, values: means };
}

/** A picture less its mean over a square of `side` px about every place. */
export function detail({ width, height, values }: Grey, side: number): Float32Array {
  const sums = new Float64Array((width + 1) * (height + 1));
  for (let y = 0; y < height; y++)
    for (let x = 0, row = 0; x < width; x++) {
      row += values[y * width + x]!;
      sums[(y + 1) * (width + 1) + x + 1] = sums[y * (width + 1) + x + 1]! + row;
    }
  const half = side >> 1;
  return values.map((value, i) => {
    const [x, y] = [i % width, Math.floor(i / width)];
    const [left, right] = [Math.max(0, x - half), Math.min(width, x + half + 1)];
    const [top, bottom] = [Math.max(0, y - half), Math.min(height, y + half + 1)];
    const at = (row: number, column: number) => sums[row * (width + 1) + column]!;
    const sum = at(bottom, right) - at(bottom, left) - at(top, right) + at(top, left);
    return value - sum / ((right - left) * (bottom - top));
  });
}
