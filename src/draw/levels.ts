import type { Sides } from '../core/lining/rects.ts';
import type { Banding } from './bands.ts';
import type { WallFrame } from './frame.ts';
import type { AtLeast } from './isobands.ts';
import { writeLength, type Units } from './length.ts';
import { look, type Pen } from './look.ts';
import { openRings, type Point } from './rings.ts';
import { areaAround, type Room } from './room.ts';
import { label, textRoom } from './text.ts';
import { element, type SvgNode } from './tree.ts';

/** Points along a line to try a label at, from its middle outwards. */
function* tryAlong(line: readonly Point[]): Generator<Point> {
  const middle = Math.floor(line.length / 2);
  const step = Math.max(1, Math.floor(line.length / 24));
  yield line[middle]!;
  for (let off = step; off < middle; off += step) {
    yield line[middle - off]!;
    if (middle + off < line.length) yield line[middle + off]!;
  }
}

/** Length of a line in the drawing's unit. */
function lengthOf(line: readonly Point[], frame: WallFrame): number {
  let sum = 0;
  for (let k = 1; k < line.length; k++)
    sum += Math.hypot(line[k]![0] - line[k - 1]![0], line[k]![1] - line[k - 1]![1]);
  return sum * frame.perMm;
}

/** Levels traced over a wall, and the bands they part. */
export interface TracedLevels {
  readonly banding: Banding;
  readonly bands: readonly AtLeast[];
  readonly wall: Sides;
}

/** The level of each contour line written into it, twice into a long one, well off other figures; none without room. */
export function labelLevels(
  { bands, banding, wall }: TracedLevels,
  units: Units,
  frame: WallFrame,
  pen: Pen,
  room: Room,
): SvgNode {
  const clear = 0.6 * pen.small;
  return element(
    'g',
    {},
    ...bands.flatMap(({ level, rings }, k) => {
      const text = writeLength(level, units, 0.5);
      const [width, height] = [textRoom(text, pen.small) + 0.3 * pen.small, 1.1 * pen.small];
      return openRings(rings, wall).flatMap((line): SvgNode[] => {
        const length = lengthOf(line, frame);
        if (length < 4 * width) return [];
        const half = line.length / 2;
        const parts = length > 40 * width ? [line.slice(0, half), line.slice(half)] : [line];
        return parts.flatMap((part) => {
          const places = [...tryAlong(part)].map(([along, up]) => {
            const [x, y] = [frame.x(along), frame.y(up)];
            return { x, y, area: areaAround(x, y, width + 2 * clear, height + clear) };
          });
          const place = room.takeFirst(places);
          if (!place) return [];
          const { x, y } = place;
          const patch = areaAround(x, y, width, height);
          return [
            element('rect', { x: patch.left, y: patch.top, width, height, fill: banding.colours[k]! }),
            label(text, x, y, { size: pen.small, anchor: 'middle', fill: look.graphite }),
          ];
        });
      });
    }),
  );
}
