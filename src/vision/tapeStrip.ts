import type { ImagePoint } from '../core/camera/frames.ts';
import type { Strip } from '../core/tape/strip.ts';
import type { Picture } from './picture.ts';

/** Where a strip lies in the picture: its first sample on the middle row, and the steps from sample to sample and row to row (px). */
export interface StripPlace {
  readonly origin: ImagePoint;
  readonly along: ImagePoint;
  readonly across: ImagePoint;
  readonly length: number;
  readonly rows: number;
}

/** The picture's point (px) at a sample and row (whole or not) of a strip. */
export function pointOnStrip(
  { origin, along, across, rows }: StripPlace,
  sample: number,
  row: number,
): ImagePoint {
  const r = row - (rows - 1) / 2;
  return {
    u: origin.u + sample * along.u + r * across.u,
    v: origin.v + sample * along.v + r * across.v,
  };
}

/**
 * Strip along the line from one image point to another, `samplePx` from sample to sample, reaching up to `beyondPx` past
 * both ends as far as the picture goes, and `halfPx` to either side; with the sample at which `from` lies.
 */
export function placeStrip(
  picture: Pick<Picture, 'widthPx' | 'heightPx'>,
  from: ImagePoint,
  to: ImagePoint,
  samplePx: number,
  halfPx: number,
  beyondPx: number,
): { strip: StripPlace; start: number } {
  const lengthPx = Math.hypot(to.u - from.u, to.v - from.v);
  const along = {
    u: ((to.u - from.u) / lengthPx) * samplePx,
    v: ((to.v - from.v) / lengthPx) * samplePx,
  };
  const inside = (step: number) => {
    const u = from.u + step * along.u;
    const v = from.v + step * along.v;
    return u >= 0 && v >= 0 && u <= picture.widthPx - 1 && v <= picture.heightPx - 1;
  };
  const most = Math.floor(beyondPx / samplePx);
  const base = Math.floor(lengthPx / samplePx);
  let before = 0;
  while (before < most && inside(-before - 1)) before++;
  let after = 0;
  while (after < most && inside(base + after + 1)) after++;
  const half = Math.ceil(halfPx / samplePx);
  const strip: StripPlace = {
    origin: { u: from.u - before * along.u, v: from.v - before * along.v },
    along,
    across: { u: -along.v, v: along.u },
    length: base + before + after + 1,
    rows: 2 * half + 1,
  };
  return { strip, start: before };
}

/** The picture's light on a strip, 0 to 255, bilinear between pixels, averaged over a sample where that is larger than a pixel. */
export function sampleStrip(picture: Picture, place: StripPlace): Strip {
  const { length, rows, along } = place;
  const samplePx = Math.hypot(along.u, along.v);
  const each = Math.max(1, Math.round(samplePx));
  const values = new Float32Array(length * rows);
  for (let j = 0; j < each; j++)
    for (let i = 0; i < each; i++) {
      const [p, q] = [(i + 0.5) / each - 0.5, (j + 0.5) / each - 0.5];
      for (let row = 0; row < rows; row++) {
        const start = pointOnStrip(place, p, row + q);
        for (let k = 0; k < length; k++)
          values[row * length + k]! += lightAt(picture, start.u + k * along.u, start.v + k * along.v);
      }
    }
  if (each > 1) for (let i = 0; i < values.length; i++) values[i]! /= each * each;
  return { length, rows, values, samplePx };
}

/** Light of the picture at a point, between four pixels; the border's goes on outside. */
function lightAt({ rgba, widthPx, heightPx }: Picture, u: number, v: number): number {
  const x = Math.min(widthPx - 1.001, Math.max(0, u));
  const y = Math.min(heightPx - 1.001, Math.max(0, v));
  const i = Math.floor(x);
  const j = Math.floor(y);
  const at = 4 * (j * widthPx + i);
  const below = at + 4 * widthPx;
  const left = (1 - (y - j)) * greyAt(rgba, at) + (y - j) * greyAt(rgba, below);
  const right = (1 - (y - j)) * greyAt(rgba, at + 4) + (y - j) * greyAt(rgba, below + 4);
  return left + (x - i) * (right - left);
}

/** Red ink shows in green, black in all: green counts double. */
function greyAt(rgba: Picture['rgba'], at: number): number {
  return (rgba[at]! + 2 * rgba[at + 1]! + rgba[at + 2]!) / 4;
}
