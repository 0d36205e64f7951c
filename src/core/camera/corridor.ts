import type { Wall } from '../survey.ts';
import { imageFromWall, type Camera } from './camera.ts';
import type { ImagePoint } from './frames.ts';
import { pointOnSheet, type KnownSheet } from './sheet.ts';

/** Where a line should be seen: the middle of the corridor as a polyline (px) and half its greatest width (px). */
export interface Corridor {
  readonly path: readonly ImagePoint[];
  readonly halfWidthPx: number;
}

const SEGMENTS = 96;

/**
 * Where a laser line should be seen on a wall whose surface lies between two offsets: the images of the sheet at `from`
 * and `to` (mm) along the whole wall, cut to the picture. The path runs along the wall (left to right, or from the floor
 * up) and ends just beyond the picture's edge; it is empty where the line is not in the picture at all.
 */
export function predictCorridor(
  camera: Camera,
  sheet: KnownSheet,
  wall: Pick<Wall, 'width' | 'height'>,
  outRangeMm: { readonly from: number; readonly to: number },
  marginPx: number,
): Corridor {
  const length = sheet.axis === 'level' ? wall.width : wall.height;
  const edges = Array.from({ length: SEGMENTS + 1 }, (_, i) => {
    const s = (length * i) / SEGMENTS;
    return {
      one: imageFromWall(camera, pointOnSheet(sheet, s, outRangeMm.from)),
      other: imageFromWall(camera, pointOnSheet(sheet, s, outRangeMm.to)),
    };
  });
  const middles = edges.map(({ one, other }) => ({ u: (one.u + other.u) / 2, v: (one.v + other.v) / 2 }));
  const halfWidths = edges.map(({ one, other }, i) => {
    const before = middles[Math.max(0, i - 1)]!;
    const after = middles[Math.min(SEGMENTS, i + 1)]!;
    const stepU = after.u - before.u;
    const stepV = after.v - before.v;
    // only what lies across the path counts
    return Math.abs(stepU * (other.v - one.v) - stepV * (other.u - one.u)) / Math.hypot(stepU, stepV) / 2;
  });
  const inside = middles.map(
    ({ u, v }) =>
      u >= -marginPx &&
      v >= -marginPx &&
      u <= camera.widthPx - 1 + marginPx &&
      v <= camera.heightPx - 1 + marginPx,
  );
  // one neighbour beyond the edge stays, so that the path reaches the edge
  const kept = middles.map(
    ({ u }, i) => Number.isFinite(u) && (inside[i]! || (inside[i - 1] ?? false) || (inside[i + 1] ?? false)),
  );
  const widest = halfWidths.reduce((most, width, i) => (kept[i]! && width > most ? width : most), 0);
  const path = middles.filter((_, i) => kept[i]);
  return { path, halfWidthPx: path.length > 0 ? widest + marginPx : 0 };
}
