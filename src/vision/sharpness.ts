/** A picture in grey levels (0 to 255), row by row. */
export interface GreyLevels {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly levels: Uint8Array;
}

/** Tiles along the long and the short side: an edge anywhere counts, plain wall around it does not. */
const TILES = 8;
/** Least slope of an edge, levels per px, and in multiples of the picture's own usual slope (noise, plaster). */
const LEAST_SLOPE = 6;
const SLOPE_OVER_USUAL = 5;
/** Edges that a tile must have to be judged by, and tiles that must have them. */
const LEAST_EDGES = 20;
const LEAST_TILES = 3;
/** Every so many rows and columns are followed: a blurred edge is as wide in the next one. */
const LINE_STEP = 2;
/** The tile that speaks for the picture: this share of the tiles judged are sharper. */
const SHARPEST = 0.2;
/** Followed to either side of the steepest place at most, px. */
const REACH_PX = 24;
/** Width of the steepest slope of a step blurred by a Gaussian, in its sigmas: the root of two pi. */
const WIDTH_PER_SIGMA = Math.sqrt(2 * Math.PI);

/** Long side (px) of the reduced picture that is judged: there a blur that matters is a few px, and noise is mostly gone. */
export const JUDGED_PX = 1600;

/**
 * From this blur on, px of the reduced picture, the user is told. Chosen on the sample's photographs and on twelve real ones,
 * blurred by a Gaussian of 0 to 8 px in 4000: sharp ones come out at 0.8 to 1.1, 2 px at 1.1 to 1.2, 3 px at 1.35 to 1.6, 4 px at
 * 1.6 to 1.9; half-way between 2 and 4 px, where a line of 8 px has grown by a third.
 */
export const BLURRED_PX = 1.4;

const quantile = (values: number[], share: number) =>
  values.sort((a, b) => a - b)[Math.floor(share * (values.length - 1))]!;

/**
 * How far the edges of a picture are drawn out, as the sigma (px) of the Gaussian that would blur a sharp step as much: contrast
 * over steepest slope. Judged by the sharpest tiles, across rows and across columns, and the worse of the two, since a shaken
 * picture is blurred one way only. NaN where too few strong edges are seen, as on a plain wall: little texture is no blur.
 * Source: edge width after Marziliano, Dufaux, Winkler and Ebrahimi, "A no-reference perceptual blur metric" (2002).
 */
export function measureBlur(picture: GreyLevels): number {
  const { widthPx, heightPx, levels } = picture;
  const along = [
    measureAlong(levels, { length: widthPx, count: heightPx, step: 1, line: widthPx }),
    measureAlong(levels, { length: heightPx, count: widthPx, step: widthPx, line: 1 }),
  ].filter((each) => !Number.isNaN(each));
  return along.length === 0 ? NaN : Math.max(...along);
}

/** How the samples of a picture follow each other along rows or columns: places of `length` samples, `step` apart, `count` lines. */
interface Course {
  readonly length: number;
  readonly count: number;
  readonly step: number;
  readonly line: number;
}

function measureAlong(levels: Uint8Array, { length, count, step, line }: Course): number {
  const slopes = new Float32Array(length);
  const values = new Float32Array(length);
  const usual = usualSlope(levels, { length, count, step, line });
  const limit = Math.max(LEAST_SLOPE, SLOPE_OVER_USUAL * usual);
  const tiles = Array.from({ length: TILES * TILES }, (): number[] => []);
  for (let n = 1; n < count - 1; n += LINE_STEP) {
    const start = n * line;
    for (let i = 0, at = start; i < length; i++, at += step)
      values[i] = (levels[at - line]! + 2 * levels[at]! + levels[at + line]!) / 4;
    for (let i = 1; i < length - 1; i++) slopes[i] = (values[i + 1]! - values[i - 1]!) / 2;
    for (let i = 2; i < length - 2; i++) {
      const slope = slopes[i]!;
      const size = Math.abs(slope);
      if (size < limit || size < Math.abs(slopes[i - 1]!) || size <= Math.abs(slopes[i + 1]!)) continue;
      const sign = Math.sign(slope);
      let [from, to] = [i, i];
      while (from > 0 && i - from < REACH_PX && sign * (values[from]! - values[from - 1]!) > 0) from--;
      while (to < length - 1 && to - i < REACH_PX && sign * (values[to + 1]! - values[to]!) > 0) to++;
      const width = (sign * (values[to]! - values[from]!)) / size;
      tiles[Math.floor((TILES * i) / length) * TILES + Math.floor((TILES * n) / count)]!.push(width);
    }
  }
  const judged = tiles.filter((each) => each.length >= LEAST_EDGES).map((each) => quantile(each, 0.5));
  return judged.length < LEAST_TILES ? NaN : quantile(judged, SHARPEST) / WIDTH_PER_SIGMA;
}

/** The median slope (levels per px) of every third sample. */
function usualSlope(levels: Uint8Array, { length, count, step, line }: Course): number {
  const counts = new Uint32Array(511);
  let all = 0;
  for (let n = 1; n < count - 1; n += 3)
    for (let i = 1; i < length - 1; i += 3) {
      const at = n * line + i * step;
      counts[Math.abs(levels[at + step]! - levels[at - step]!)]!++;
      all++;
    }
  let below = 0;
  for (let size = 0; size < counts.length; size++) if ((below += counts[size]!) >= all / 2) return size / 2;
  return 0;
}
