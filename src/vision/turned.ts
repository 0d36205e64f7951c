import type { LineAxis } from '../core/survey.ts';
import type { ReducedPicture } from './reduced.ts';

/**
 * A reduced picture turned so that the wanted line runs along its rows: for a plumb line its columns have
 * become rows.
 */
export interface TurnedPicture {
  readonly axis: LineAxis;
  readonly alongPx: number;
  readonly acrossPx: number;
  readonly factor: number;
  readonly rgba: Uint8Array;
}

/** All three channels above this share of full scale: too bright to have a colour of its own. */
const WHITE_SHARE = 0.8;
/**
 * The widest white run across the line that is taken for a core, and how far beyond it its colour is looked
 * for (px).
 */
const CORE_PX = 12;
const FLANK_PX = 4;

/**
 * A copy of the reduced picture, as it is for a level line, with rows and columns exchanged for a plumb one.
 */
export function turnPicture(picture: ReducedPicture, axis: LineAxis): TurnedPicture {
  const { widthPx, heightPx, factor, rgba } = picture;
  if (axis === 'level') return { axis, alongPx: widthPx, acrossPx: heightPx, factor, rgba: rgba.slice() };
  const turned = new Uint32Array(widthPx * heightPx);
  const pixels = new Uint32Array(rgba.buffer, rgba.byteOffset, widthPx * heightPx);
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++) turned[x * heightPx + y] = pixels[y * widthPx + x]!;
  return { axis, alongPx: heightPx, acrossPx: widthPx, factor, rgba: new Uint8Array(turned.buffer) };
}

/** Spread between a pixel's largest and least channel. */
function chroma(rgba: Uint8Array, k: number): number {
  const [r, g, b] = [rgba[k]!, rgba[k + 1]!, rgba[k + 2]!];
  return Math.max(r, g, b) - Math.min(r, g, b);
}

/**
 * Gives clipped cores the colour of their flanks, in place: a white run across the line, narrow as a core,
 * takes the colour of the paler of its two flanks at its own brightness, so that an over-exposed line is one
 * coloured line and not two; a white surface stays white.
 */
export function colourCores(picture: TurnedPicture): void {
  const { rgba, alongPx, acrossPx } = picture;
  const stride = 4 * alongPx;
  const limit = 255 * WHITE_SHARE;
  const runs = new Int32Array(alongPx);
  const flank = (from: number, step: number): number => {
    let best = from;
    for (let k = from, n = 0; n < FLANK_PX && k >= 0 && k < rgba.length; n++, k += step)
      if (chroma(rgba, k) > chroma(rgba, best)) best = k;
    return best;
  };
  for (let y = 0, k = 0; y < acrossPx; y++) {
    for (let x = 0; x < alongPx; x++, k += 4) {
      if (rgba[k]! > limit && rgba[k + 1]! > limit && rgba[k + 2]! > limit) {
        runs[x]!++;
        continue;
      }
      const length = runs[x]!;
      runs[x] = 0;
      if (length === 0 || length > CORE_PX || length >= y) continue;
      const start = k - length * stride;
      const [before, after] = [flank(start - stride, -stride), flank(k, stride)];
      const paler = chroma(rgba, before) < chroma(rgba, after) ? before : after;
      const top = Math.max(rgba[paler]!, rgba[paler + 1]!, rgba[paler + 2]!);
      for (let core = start; core < k; core += stride) {
        const bright = Math.max(rgba[core]!, rgba[core + 1]!, rgba[core + 2]!);
        for (let c = 0; c < 3; c++) rgba[core + c] = Math.max(0, bright - top + rgba[paler + c]!);
      }
    }
  }
}
