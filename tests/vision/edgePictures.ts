import { undistortRadius } from '../../src/core/camera/lens.ts';
import type { Picture } from '../../src/vision/picture.ts';
import { seedRandom } from '../truth/random.ts';

export type MadeKind = 'bright' | 'dark' | 'edge';
type End = readonly [number, number];

/** A straight thing in the undistorted picture, by its ends in px from the middle. */
export interface MadeEdge {
  readonly kind: MadeKind;
  readonly ends: readonly [End, End];
  /** Half its width (px): of a string, a sd; of an edge, its blur. */
  readonly blurPx?: number;
  /** A stretch (shares of its length) on which something lies in front of it. */
  readonly hidden?: readonly [number, number];
}

export const MADE = { widthPx: 1600, heightPx: 1200, focalPx: 1160 };

/** A made photograph of straight things through a lens: a textured wall, the things on it, noise of `noise` grey levels. */
export function drawEdges(edges: readonly MadeEdge[], k1: number, seed: number, noise = 2): Picture {
  const { widthPx, heightPx, focalPx } = MADE;
  const random = seedRandom(seed);
  const rgba = new Uint8ClampedArray(4 * widthPx * heightPx);
  for (let v = 0; v < heightPx; v++)
    for (let u = 0; u < widthPx; u++) {
      const xd = (u - (widthPx - 1) / 2) / focalPx;
      const yd = (v - (heightPx - 1) / 2) / focalPx;
      const rd = Math.hypot(xd, yd);
      const scale = rd === 0 ? focalPx : (focalPx * undistortRadius(rd, k1)) / rd;
      let level = 130 + 8 * Math.sin(u / 37) * Math.cos(v / 23);
      for (const edge of edges) level = paint(edge, xd * scale, yd * scale, level);
      // near enough to normal, and quick: two uniform numbers, of sd 1
      level += noise * Math.sqrt(6) * (random.uniform() + random.uniform() - 1);
      rgba.fill(level, 4 * (v * widthPx + u), 4 * (v * widthPx + u) + 3);
      rgba[4 * (v * widthPx + u) + 3] = 255;
    }
  return { widthPx, heightPx, rgba };
}

function paint(
  { kind, ends: [a, b], blurPx = 1.2, hidden }: MadeEdge,
  x: number,
  y: number,
  level: number,
): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const length = Math.hypot(dx, dy);
  const t = ((x - a[0]) * dx + (y - a[1]) * dy) / length ** 2;
  if (hidden && t > hidden[0] && t < hidden[1]) return level;
  const d = ((y - a[1]) * dx - (x - a[0]) * dy) / length;
  if (kind === 'edge') return level + 60 / (1 + Math.exp(-1.7 * (d / blurPx)));
  if (t < -0.02 || t > 1.02) return level;
  const share = Math.exp(-0.5 * (d / blurPx) ** 2);
  return level + (kind === 'bright' ? 90 : -90) * share;
}

/** Where the lens shows a place of the undistorted picture (px from its middle). */
export function showPlace([x, y]: End, k1: number): { u: number; v: number } {
  const { widthPx, heightPx, focalPx } = MADE;
  const factor = 1 + k1 * ((x / focalPx) ** 2 + (y / focalPx) ** 2);
  return { u: (widthPx - 1) / 2 + factor * x, v: (heightPx - 1) / 2 + factor * y };
}
