/** Means over tiles of a map, each taken over the 5 x 5 tiles round it. */
export interface TileMeans {
  readonly tileWidth: number;
  readonly tileHeight: number;
  readonly columns: number;
  /** Row by row. */
  readonly means: Float64Array;
}

/** Tiles to either side that are averaged too. */
const REACH = 2;
/** Every so manieth row is enough for a mean. */
const ROW_STEP = 2;

/**
 * Mean absolute value of a map (row by row) round every tile of `tileWidth` x `tileHeight`, over 5 x 5 tiles: how lively
 * the picture is there.
 */
export function tileMeans(
  width: number,
  height: number,
  values: Int16Array,
  tileWidth: number,
  tileHeight: number,
): TileMeans {
  const columns = Math.ceil(width / tileWidth);
  const rows = Math.ceil(height / tileHeight);
  const sums = new Float64Array(columns * rows);
  for (let y = 0; y < height; y += ROW_STEP) {
    const row = Math.floor(y / tileHeight) * columns;
    for (let tile = 0, x = 0; tile < columns; tile++) {
      const end = Math.min(width, x + tileWidth);
      let sum = 0;
      for (; x < end; x++) {
        const value = values[y * width + x]!;
        const sign = value >> 31;
        sum += (value ^ sign) - sign;
      }
      sums[row + tile]! += sum;
    }
  }
  const means = new Float64Array(columns * rows);
  for (let j = 0; j < rows; j++) {
    const [top, bottom] = [Math.max(0, j - REACH), Math.min(rows, j + REACH + 1)];
    const high = countRows(top * tileHeight, Math.min(height, bottom * tileHeight));
    for (let i = 0; i < columns; i++) {
      const [left, right] = [Math.max(0, i - REACH), Math.min(columns, i + REACH + 1)];
      let sum = 0;
      for (let b = top; b < bottom; b++) for (let a = left; a < right; a++) sum += sums[b * columns + a]!;
      means[j * columns + i] = sum / (high * (Math.min(width, right * tileWidth) - left * tileWidth));
    }
  }
  return { tileWidth, tileHeight, columns, means };
}

/** How many of the rows from..to (not in it) are looked at. */
const countRows = (from: number, to: number): number => Math.ceil(to / ROW_STEP) - Math.ceil(from / ROW_STEP);
