import type { StockSize } from '../../survey.ts';
import { closeMm, type PieceKind } from './pieceKind.ts';

/** Which cut comes first: `rip` = strips along the stock board, cut to length; `cross` = lengths of it, ripped. */
export type CutOrder = 'rip' | 'cross';

/** A piece in a bar: its kind, whether it lies turned by a quarter, and its size across and along the bar (mm). */
export interface BarPart {
  readonly kind: number;
  readonly turned: boolean;
  readonly across: number;
  readonly along: number;
}

/**
 * What the first cuts leave of a stock board: a strip (`rip`) or a length (`cross`), `sizeMm` across, and the pieces it is
 * cut into, one beside the other, those narrower than it trimmed.
 */
export interface Bar {
  readonly order: CutOrder;
  readonly sizeMm: number;
  /** Of a strip: how many of its edges are the stock board's own; of a length always 2. */
  readonly edges: 0 | 1 | 2;
  readonly parts: readonly BarPart[];
  /** Cuts within it: to length and trims. */
  readonly cuts: number;
  /** How many edges that will stand at a joint are cut. */
  readonly cutJoints: number;
}

interface Place {
  readonly part: BarPart;
  readonly wants: number;
  readonly most: number;
}

function listPlaces(kinds: readonly PieceKind[], order: CutOrder): Place[] {
  const places = kinds.flatMap(({ width, length, mayTurn, wants, items }, kind): Place[] => {
    const lie = (turned: boolean): Place => {
      const [x, y] = turned ? [length, width] : [width, length];
      const [across, along] = order === 'rip' ? [x, y] : [y, x];
      return { part: { kind, turned, across, along }, wants, most: items.length };
    };
    return mayTurn && Math.abs(width - length) > closeMm ? [lie(false), lie(true)] : [lie(false)];
  });
  return places.sort((a, b) => b.part.along - a.part.along || b.part.across - a.part.across);
}

/** Distinct sizes across, largest first. */
function listSizes(places: readonly Place[], mostMm: number): number[] {
  const sorted = places.map(({ part }) => part.across).sort((a, b) => b - a);
  return sorted.filter((size, k) => size <= mostMm + closeMm && (k === 0 || sorted[k - 1]! - size > closeMm));
}

/** The joint edges that come out cut when the pieces get `bound` edges of the stock board each. */
const countCutJoints = (wants: readonly number[], bound: readonly number[]) =>
  wants.reduce((sum, want, k) => sum + Math.max(0, want - bound[k]!), 0);

function makeBars(
  parts: readonly { part: BarPart; wants: number }[],
  order: CutOrder,
  sizeMm: number,
  { width, length }: StockSize,
): Bar[] {
  const total = parts.reduce((sum, { part }) => sum + part.along, 0);
  const exact = Math.abs(total - (order === 'rip' ? length : width)) <= closeMm;
  const trims = parts.filter(({ part }) => sizeMm - part.across > closeMm).length;
  const bar = {
    order,
    sizeMm,
    parts: parts.map(({ part }) => part),
    cuts: parts.length - (exact ? 1 : 0) + trims,
  };
  const wants = parts.map((each) => each.wants);
  if (order === 'cross') {
    // The two outermost pieces have an edge of the stock board each, a single one that fills it both.
    const most = [...wants].sort((a, b) => b - a);
    const bound = most.map((_, k) => (most.length === 1 && exact ? 2 : k < 2 ? 1 : 0));
    return [{ ...bar, edges: 2, cutJoints: countCutJoints(most, bound) }];
  }
  if (Math.abs(sizeMm - width) <= closeMm) {
    const bound = parts.map(({ part }) => (sizeMm - part.across > closeMm ? 1 : 2));
    return [{ ...bar, edges: 2, cutJoints: countCutJoints(wants, bound) }];
  }
  const none: Bar = { ...bar, edges: 0, cutJoints: wants.reduce((sum, want) => sum + want, 0) };
  if (none.cutJoints === 0) return [none];
  const one = wants.map(() => 1);
  return [none, { ...bar, edges: 1, cutJoints: countCutJoints(wants, one) }];
}

/**
 * Every bar that can be cut from a stock board for these kinds of piece: each has a piece of just its size across and no
 * more pieces of a kind than there are. Null when there are more than `most` of them.
 */
export function listBars(
  kinds: readonly PieceKind[],
  stock: StockSize,
  order: CutOrder,
  most: number,
): Bar[] | null {
  const [acrossMm, alongMm] = order === 'rip' ? [stock.width, stock.length] : [stock.length, stock.width];
  const places = listPlaces(kinds, order);
  const bars: Bar[] = [];
  for (const sizeMm of listSizes(places, acrossMm)) {
    const isExact = ({ part }: Place) => sizeMm - part.across <= closeMm;
    const fitting = places.filter(
      ({ part }) => part.across <= sizeMm + closeMm && part.along <= alongMm + closeMm,
    );
    // those of just this size come first, so that every choice gone into has one and is a bar: their count bounds the work
    const own = [...fitting.filter(isExact), ...fitting.filter((place) => !isExact(place))];
    const exactCount = fitting.filter(isExact).length;
    const left = new Int32Array(kinds.length);
    kinds.forEach(({ items }, kind) => (left[kind] = items.length));
    const chosen: Place[] = [];
    const add = (from: number, roomMm: number): boolean => {
      if (chosen.length > 0) bars.push(...makeBars(inOrder(chosen, places), order, sizeMm, stock));
      if (bars.length > most) return false;
      for (let k = from; k < (chosen.length === 0 ? exactCount : own.length); k++) {
        const { kind, along } = own[k]!.part;
        if (along > roomMm + closeMm || left[kind] === 0) continue;
        left[kind]!--;
        chosen.push(own[k]!);
        const went = add(k, roomMm - along);
        chosen.pop();
        left[kind]!++;
        if (!went) return false;
      }
      return true;
    };
    if (!add(0, alongMm)) return null;
  }
  return bars;
}

/** The places of a bar as they stand in the list: the longest first. */
const inOrder = (chosen: readonly Place[], places: readonly Place[]) =>
  [...chosen].sort((a, b) => places.indexOf(a) - places.indexOf(b));
