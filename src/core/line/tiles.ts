/** Local means of a map: `at(x, y)` is the mean over the 5 x 5 tiles round the tile of (x, y). */
export interface TileMeans {
  readonly at: (x: number, y: number) => number;
}

/**
 * Mean absolute value of a map (row by row) round every place, as means over 5 x 5 tiles of `tilePx`: how
 * lively the picture is there.
 */
export function tileMeans(width: number, height: number, values: Float32Array, tilePx: number): TileMeans {
  const columns = Math.ceil(width / tilePx);
  const rows = Math.ceil(height / tilePx);
  const sums = new Float64Array(columns * rows);
  const counts = new Float64Array(columns * rows);
  for (let y = 0; y < height; y++) {
    const row = Math.floor(y / tilePx) * columns;
    for (let x = 0; x < width;) {
      const tile = row + Math.floor(x / tilePx);
      const end = Math.min(width, x + tilePx - (x % tilePx));
      let sum = 0;
      counts[tile]! += end - x;
      for (; x < end; x++) {
        const value = values[y * width + x]!;
        sum += value < 0 ? -value : value;
      }
      sums[tile]! += sum;
    }
  }
  const means = new Float64Array(columns * rows);
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      let sum = 0;
      let count = 0;
      for (let b = Math.max(0, j - 2); b <= Math.min(rows - 1, j + 2); b++) {
        for (let a = Math.max(0, i - 2); a <= Math.min(columns - 1, i + 2); a++) {
          sum += sums[b * columns + a]!;
          count += counts[b * columns + a]!;
        }
      }
      means[j * columns + i] = sum / count;
    }
  }
  return { at: (x, y) => means[Math.floor(y / tilePx) * columns + Math.floor(x / tilePx)]! };
}
