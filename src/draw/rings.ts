import type { Sides } from '../core/lining/rects.ts';

/** A point on the wall: along, up (mm). */
export type Point = readonly [number, number];
/** A closed line; the first point may or may not be repeated at the end. */
export type Ring = readonly Point[];

/** What lies on the near side of one edge of a ring (Sutherland and Hodgman 1974). `far` > 0: beyond the edge. */
function clipEdge(ring: Ring, far: (point: Point) => number): Point[] {
  const kept: Point[] = [];
  ring.forEach((point, index) => {
    const before = ring[(index + ring.length - 1) % ring.length]!;
    const [a, b] = [far(before), far(point)];
    if (a > 0 !== b > 0) {
      const t = a / (a - b);
      kept.push([before[0] + t * (point[0] - before[0]), before[1] + t * (point[1] - before[1])]);
    }
    if (b <= 0) kept.push(point);
  });
  return kept;
}

/**
 * The part of a ring inside a rectangle; stretches outside follow the rectangle's edge, so filled rings stay right.
 * @example clipRing([[-5, 2], [5, 2], [5, 8], [-5, 8]], { left: 0, right: 9, bottom: 0, top: 9 }).length // 4
 */
export function clipRing(ring: Ring, { left, right, bottom, top }: Sides): Ring {
  const edges: ((point: Point) => number)[] = [
    ([x]) => left - x,
    ([x]) => x - right,
    ([, y]) => bottom - y,
    ([, y]) => y - top,
  ];
  return edges.reduce<Ring>((rest, far) => (rest.length === 0 ? rest : clipEdge(rest, far)), ring);
}

/**
 * Area enclosed by rings under the even-odd rule, for rings that do not cross: outer rings turn one way, holes the other.
 * @example measureArea([[[0, 0], [4, 0], [4, 2], [0, 2]]]) // 8
 */
export function measureArea(rings: readonly Ring[]): number {
  const signed = rings.map((ring) => {
    let twice = 0;
    ring.forEach(([x, y], index) => {
      const [nextX, nextY] = ring[(index + 1) % ring.length]!;
      twice += x * nextY - nextX * y;
    });
    return twice / 2;
  });
  return Math.abs(signed.reduce((sum, area) => sum + area, 0));
}

/** The lines along rings that do not lie on the rectangle's edge: contour lines without the frame they were clipped to. */
export function openRings(rings: readonly Ring[], { left, right, bottom, top }: Sides): Point[][] {
  const near = (a: number, b: number) => Math.abs(a - b) < 1e-6;
  const isFrame = (a: Point, b: Point) =>
    (near(a[0], b[0]) && (near(a[0], left) || near(a[0], right))) ||
    (near(a[1], b[1]) && (near(a[1], bottom) || near(a[1], top)));
  return rings.flatMap((ring) => {
    const closed = [...ring, ring[0]!].filter(
      (point, index, all) =>
        index === 0 || point[0] !== all[index - 1]![0] || point[1] !== all[index - 1]![1],
    );
    const lines: Point[][] = [];
    let line: Point[] = [];
    for (let k = 1; k < closed.length; k++) {
      const [from, to] = [closed[k - 1]!, closed[k]!];
      if (isFrame(from, to)) line = [];
      else if (line.length === 0) lines.push((line = [from, to]));
      else line.push(to);
    }
    // a line that runs through the ring's first point comes in two pieces
    const [first, last] = [lines[0], lines.at(-1)];
    const isCut = first && last && first !== last && first[0] === closed[0] && last.at(-1) === closed.at(-1);
    return isCut ? [[...last, ...first.slice(1)], ...lines.slice(1, -1)] : lines;
  });
}

/**
 * Parallel lines over the inside (even-odd rule) of rings: a hatch, as pieces from end to end. `spacing` in mm, `angleRad`
 * from along towards up. Lines stand at whole multiples of the spacing from the wall's corner, so neighbours match.
 * @example hatchRings([[[0, 0], [10, 0], [10, 4], [0, 4]]], 3, 0) // [[[0, 0], [10, 0]], [[0, 3], [10, 3]]]
 */
export function hatchRings(rings: readonly Ring[], spacing: number, angleRad: number): [Point, Point][] {
  const [cos, sin] = [Math.cos(angleRad), Math.sin(angleRad)];
  const turned = rings.map((ring) => ring.map(([x, y]): Point => [x * cos + y * sin, y * cos - x * sin]));
  const crossings = new Map<number, number[]>();
  for (const ring of turned) {
    ring.forEach(([xa, ya], index) => {
      const [xb, yb] = ring[(index + 1) % ring.length]!;
      if (ya === yb) return;
      const [low, high] = ya < yb ? [ya, yb] : [yb, ya];
      // half-open, so that a corner on a line is crossed once
      for (let row = Math.ceil(low / spacing); row * spacing < high; row++) {
        const at = xa + ((row * spacing - ya) / (yb - ya)) * (xb - xa);
        crossings.set(row, [...(crossings.get(row) ?? []), at]);
      }
    });
  }
  const back = (x: number, y: number): Point => [x * cos - y * sin, x * sin + y * cos];
  return [...crossings.keys()]
    .sort((a, b) => a - b)
    .flatMap((row) => {
      const xs = crossings.get(row)!.sort((a, b) => a - b);
      const pieces: [Point, Point][] = [];
      for (let k = 0; k + 1 < xs.length; k += 2)
        if (xs[k + 1]! - xs[k]! > 1e-9)
          pieces.push([back(xs[k]!, row * spacing), back(xs[k + 1]!, row * spacing)]);
      return pieces;
    });
}
