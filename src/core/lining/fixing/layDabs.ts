import type { Dab } from '../../liningPlan.ts';
import type { LiningSettings } from '../defaults.ts';
import { clipSides, growSides, type Sides } from '../rects.ts';
import { endsOver, measureBoard } from './boardFace.ts';
import { placeColumns } from './columns.ts';
import { measureSides } from './footprint.ts';
import type { BoardFixing } from './packBoard.ts';
import type { Packed } from './packing.ts';
import { cutBand, freeSpans, risesIn, runsIn, type Span } from './spans.ts';

/** Where a dab or a part of a strip is pressed, and the packing strip it stands on (null = masonry). */
export interface Footprint {
  readonly kind: Dab['kind'];
  readonly sides: Sides;
  readonly on: Packed | null;
}

/** A stretch of a band with nothing in it, on one packing strip or on masonry throughout. */
interface Bay extends Span {
  readonly on: Packed | null;
}

/** What dabs are laid round: squares about the screws, and the packing strips. */
export interface Obstacles {
  readonly screws: readonly Sides[];
  readonly packed: readonly Packed[];
}

/** Splits what is free of a band at the packing strips in it. */
function findBays(whole: Span, taken: readonly Span[], packed: readonly (Span & { on: Packed })[]): Bay[] {
  const ground = freeSpans(whole, [...taken, ...packed]).map((span): Bay => ({ ...span, on: null }));
  const above = packed.flatMap(({ from, to, on }) =>
    freeSpans({ from: Math.max(from, whole.from), to: Math.min(to, whole.to) }, taken).map((span): Bay => ({
      ...span,
      on,
    })),
  );
  return [...ground, ...above].filter(({ from, to }) => to > from).sort((a, b) => a.from - b.from);
}

const clipAcross = (sides: Sides, on: Packed | null): Sides | null =>
  on ? clipSides(sides, on.sides) : sides;

/** The continuous strips, cut where screws stand and where packing begins and ends. */
function cutStrips({ strips }: BoardFixing, { screws, packed }: Obstacles, leastMm: number): Footprint[] {
  return strips.flatMap(({ kind, sides, axis }) => {
    const under = packed.filter((each) => clipSides(each.sides, sides));
    const bare = cutBand(sides, [...screws, ...under.map((each) => each.sides)], axis, leastMm);
    return [
      ...bare.map((part): Footprint => ({ kind, sides: part, on: null })),
      ...under.flatMap((on) =>
        cutBand(clipSides(sides, on.sides)!, screws, axis, leastMm).map((part): Footprint => ({
          kind,
          sides: part,
          on,
        })),
      ),
    ];
  });
}

/** The level row along one end of a board: a dab at each column, `longMm` long where there is room, under or over the nearest screws. */
function layRow(
  fixing: BoardFixing,
  end: 'bottom' | 'top',
  longMm: number,
  taken: readonly Sides[],
  obstacles: Obstacles,
  settings: LiningSettings,
): Footprint[] {
  const { board, columns } = fixing;
  const { dabEdgeMm, dabWidthLeastMm, stripWidthMm, screwDabClearMm } = settings;
  const targets = placeColumns(board, columns, longMm, settings);
  return targets.flatMap(({ from, to }, k): Footprint[] => {
    const ends = endsOver(board, from, to);
    const edge = end === 'top' ? ends.top - dabEdgeMm : ends.bottom + dabEdgeMm;
    const room = obstacles.screws
      .filter(({ left, right }) => left < to && right > from)
      .map(({ bottom, top }) => (end === 'top' ? edge - top : bottom - edge))
      .filter((gap) => gap > 0);
    const highMm = Math.max(Math.min(stripWidthMm, ...room), dabWidthLeastMm);
    const band = end === 'top' ? { from: edge - highMm, to: edge } : { from: edge, to: edge + highMm };
    if (band.from < ends.bottom + dabEdgeMm || band.to > ends.top - dabEdgeMm) return [];
    const inBand = obstacles.packed.filter(({ sides }) => sides.bottom < band.to && sides.top > band.from);
    const middle = (from + to) / 2;
    // Along a sloping end a dab stays where its room was measured.
    const [before, after] = board.outline ? [] : [targets[k - 1], targets[k + 1]];
    const within = {
      from: before ? (before.to + from) / 2 + screwDabClearMm : from,
      to: after ? (to + after.from) / 2 - screwDabClearMm : to,
    };
    const bays = findBays(
      within,
      runsIn(band, taken),
      inBand.map((on) => ({ from: on.sides.left, to: on.sides.right, on })),
    );
    // Where the column is packed the row stands on that, or there is none.
    const isPacked = bays.some(({ on }) => on !== null);
    const dabs = bays
      .filter(({ on }) => !isPacked || on !== null)
      .flatMap(({ from: first, to: last, on }): Footprint[] => {
        const lengthMm = Math.min(to - from, last - first);
        const left = Math.min(Math.max(from, first), last - lengthMm);
        const sides = clipAcross({ left, right: left + lengthMm, bottom: band.from, top: band.to }, on);
        return sides && Math.min(lengthMm, sides.top - sides.bottom) >= dabWidthLeastMm - 1e-6
          ? [{ kind: 'dab', sides, on }]
          : [];
      });
    const away = ({ sides }: Footprint) => Math.abs((sides.left + sides.right) / 2 - middle);
    const best = dabs.sort((a, b) => measureSides(b.sides) - measureSides(a.sides) || away(a) - away(b))[0];
    return best ? [best] : [];
  });
}

/** The dabs of one column, `longMm` long where there is room, at most the row spacing apart. */
function layColumn(
  fixing: BoardFixing,
  band: Span,
  longMm: number,
  taken: readonly Sides[],
  obstacles: Obstacles,
  settings: LiningSettings,
): Footprint[] {
  const { dabEdgeMm, dabRowMm, dabWidthLeastMm, screwDabClearMm } = settings;
  const ends = endsOver(fixing.board, band.from, band.to);
  const under = obstacles.packed
    .filter(({ sides }) => sides.left < band.to && sides.right > band.from)
    .map((on) => ({ from: on.sides.bottom, to: on.sides.top, on }));
  const whole = { from: ends.bottom + dabEdgeMm, to: ends.top - dabEdgeMm };
  return findBays(whole, risesIn(band, taken), under).flatMap(({ from, to, on }): Footprint[] => {
    const lengthMm = to - from;
    if (lengthMm < dabWidthLeastMm) return [];
    // Cells end in the middle of what parts the dabs.
    const count = Math.ceil((lengthMm + 2 * screwDabClearMm) / dabRowMm - 1e-9);
    const cellMm = (lengthMm + 2 * screwDabClearMm) / count;
    const dabMm = Math.min(longMm, cellMm - 2 * screwDabClearMm);
    return Array.from({ length: count }, (_, k) => {
      const middle = from - screwDabClearMm + (k + 0.5) * cellMm;
      const sides = { left: band.from, right: band.to, bottom: middle - dabMm / 2, top: middle + dabMm / 2 };
      return clipAcross(sides, on);
    }).flatMap((sides) =>
      sides && sides.right - sides.left >= Math.min(dabWidthLeastMm, band.to - band.from) - 1e-6
        ? [{ kind: 'dab', sides, on } as const]
        : [],
    );
  });
}

/** Widths and lengths of dab to try (mm), from the least: wider first, then longer, then as wide as there is room for. */
function listSizes(widthMostMm: number, settings: LiningSettings): { wideMm: number; longMm: number }[] {
  const { dabWidthLeastMm, dabLengthMm, packingWidthMm } = settings;
  const steps = (from: number, to: number) =>
    Array.from({ length: Math.max(1, Math.floor(to - from) + 1) }, (_, k) => from + k);
  const usualMost = Math.min(widthMostMm, Math.max(dabWidthLeastMm, packingWidthMm));
  const least = Math.min(dabWidthLeastMm, widthMostMm);
  return [
    ...steps(least, usualMost).map((wideMm) => ({ wideMm, longMm: dabLengthMm })),
    ...steps(usualMost, widthMostMm).map((wideMm) => ({ wideMm, longMm: Infinity })),
  ];
}

/**
 * The dabs and strips behind one board: the smallest dabs with which all of it touches the board over at least its share; `short`: how
 * much of that share is missing where there is no room. A row along the top, and along the bottom where no strip is, then the columns;
 * round the screws, off the cut-outs, each on one packing strip or on none.
 * Source: rows, columns and sizes, UK specification clause (after BS 8212) and UK guides.
 */
export function layDabs(
  fixing: BoardFixing,
  obstacles: Obstacles,
  settings: LiningSettings,
): { footprints: Footprint[]; short: number } {
  const { board, columns, cutouts } = fixing;
  const { screwDabClearMm, dabLengthMm, coverageShare, dabWidthLeastMm } = settings;
  const strips = cutStrips(fixing, obstacles, Math.min(10, dabWidthLeastMm));
  const grown = (each: readonly { readonly sides: Sides }[]) =>
    each.map(({ sides }) => growSides(sides, screwDabClearMm - 1e-6));
  const fixed = [...cutouts, ...obstacles.screws, ...grown(strips)];
  const rowMm = Math.min(dabLengthMm, columns.widthMostMm);
  const top = layRow(fixing, 'top', rowMm, fixed, obstacles, settings);
  const bottom = layRow(fixing, 'bottom', rowMm, [...fixed, ...grown(top)], obstacles, settings);
  const rows = [...top, ...bottom];
  const taken = [...fixed, ...grown(rows)];
  const whole = measureBoard(board);
  const areaOf = (all: readonly Footprint[]) => all.reduce((sum, { sides }) => sum + measureSides(sides), 0);
  let best: Footprint[] = [];
  for (const { wideMm, longMm } of listSizes(columns.widthMostMm, settings)) {
    const dabs = placeColumns(board, columns, wideMm, settings).flatMap((band) =>
      layColumn(fixing, band, longMm, taken, obstacles, settings),
    );
    const all = [...strips, ...rows, ...dabs];
    if (areaOf(all) > areaOf(best)) best = all;
    if (areaOf(all) >= coverageShare * whole) return { footprints: all, short: 0 };
  }
  return { footprints: best, short: coverageShare - areaOf(best) / whole };
}
