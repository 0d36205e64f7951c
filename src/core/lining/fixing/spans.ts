import { clipSides, visitTiles, type Sides } from '../rects.ts';

/** A stretch along one axis (mm). */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/**
 * What is left of a stretch without those that are taken, from its beginning.
 * @example freeSpans({ from: 0, to: 10 }, [{ from: 2, to: 4 }, { from: 3, to: 12 }]) // [{ from: 0, to: 2 }]
 */
export function freeSpans(whole: Span, taken: readonly Span[]): Span[] {
  const free: Span[] = [];
  let { from } = whole;
  for (const each of taken.filter(({ to }) => to > whole.from).sort((a, b) => a.from - b.from)) {
    if (each.from >= whole.to) break;
    if (each.from > from) free.push({ from, to: each.from });
    from = Math.max(from, each.to);
  }
  if (from < whole.to) free.push({ from, to: whole.to });
  return free;
}

/** The heights (mm) at which rectangles lie in an upright band. */
export function risesIn(band: Span, rects: readonly Sides[]): Span[] {
  return rects
    .filter(({ left, right }) => left < band.to - 1e-9 && right > band.from + 1e-9)
    .map(({ bottom, top }) => ({ from: bottom, to: top }));
}

/** The stretches along (mm) at which rectangles lie in a level band. */
export function runsIn(band: Span, rects: readonly Sides[]): Span[] {
  return rects
    .filter(({ bottom, top }) => bottom < band.to - 1e-9 && top > band.from + 1e-9)
    .map(({ left, right }) => ({ from: left, to: right }));
}

/** Joins tiles that lie side by side, first across the axis and then along it. */
function joinTiles(tiles: readonly Sides[], axis: 'along' | 'up'): Sides[] {
  const joinOn = (rects: readonly Sides[], on: 'along' | 'up') => {
    const joined: Sides[] = [];
    for (const rect of rects) {
      const k = joined.findIndex((each) =>
        on === 'along'
          ? each.right === rect.left && each.bottom === rect.bottom && each.top === rect.top
          : each.top === rect.bottom && each.left === rect.left && each.right === rect.right,
      );
      if (k < 0) joined.push(rect);
      else
        joined[k] = on === 'along' ? { ...joined[k]!, right: rect.right } : { ...joined[k]!, top: rect.top };
    }
    return joined;
  };
  const across = joinOn(tiles, axis === 'along' ? 'up' : 'along');
  const sorted = [...across].sort((a, b) => (axis === 'along' ? a.left - b.left : a.bottom - b.bottom));
  return joinOn(sorted, axis);
}

/** What is left of a band that runs along `axis` when holes are cut out of it: few rectangles, none thinner than `leastMm`. */
export function cutBand(
  band: Sides,
  holes: readonly Sides[],
  axis: 'along' | 'up',
  leastMm: number,
): Sides[] {
  const met = holes.filter((hole) => clipSides(hole, band));
  const tiles: Sides[] = [];
  visitTiles(band, met, (tile) => tiles.push(tile));
  return joinTiles(tiles, axis).filter(
    ({ left, right, bottom, top }) => right - left >= leastMm && top - bottom >= leastMm,
  );
}
