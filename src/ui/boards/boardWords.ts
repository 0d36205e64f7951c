import type { CuttingPlan, RevealBoard } from '../../core/liningPlan.ts';
import type { Board } from '../../core/results.ts';
import { measureShape } from '../../draw/boardShape.ts';
import { lengthText, type Units } from '../units.ts';

/** A count with its noun. @example sayCount(2, 'hole') // '2 holes' */
export function sayCount(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

/** @example sayCuts(0) // 'No cuts' */
export const sayCuts = (cuts: number): string => (cuts === 0 ? 'No cuts' : sayCount(cuts, 'cut') + ' in all');

/** Whether fewer boards might do, in words. */
export function sayProof({ sheets, sheetsLeast, proven }: CuttingPlan): string {
  const count = sayCount(sheets.length, 'stock board');
  const spare = sheets.length - sheetsLeast;
  if (proven) return `${count}: proven, fewer cannot do.`;
  return spare > 0
    ? `${count}: the best found; ${spare} fewer might do, that was not searched to the end.`
    : `${count}: fewer cannot do.`;
}

/**
 * What sort of cutting a board takes, in the trade's words.
 * @example nameCut({ id: 'A', along: 0, up: 0, width: 900, height: 2400, cutouts: [], outline: null, edges: { left: 'bound', right: 'cut' }, holes: [], sheet: 's1', massKg: 20, persons: 1 }) // 'cut on the right'
 */
export function nameCut(board: Board): string {
  const shape = measureShape(board);
  const { left, right } = board.edges;
  const touches = (low: number, high: number, whole: number) => [low < 1, high > whole - 1];
  const cuts = shape.cutouts.map((cutout) => {
    const sides = [
      ...touches(cutout.along, cutout.along + cutout.width, shape.width),
      ...touches(cutout.up, cutout.up + cutout.height, shape.height),
    ].filter(Boolean).length;
    return sides >= 2 ? 'L cut' : sides === 1 ? 'U cut' : 'window cut inside';
  });
  const sides =
    left === 'cut' && right === 'cut'
      ? ['cut on both sides']
      : left === 'cut'
        ? ['cut on the left']
        : right === 'cut'
          ? ['cut on the right']
          : [];
  const parts = [
    ...sides,
    ...(shape.isSloping ? ['sloping end'] : []),
    ...cuts,
    ...(shape.holes.length > 0 ? [sayCount(shape.holes.length, 'hole')] : []),
  ];
  return parts.join(', ') || 'full width';
}

/** Width and height of a board, with the unit. */
export function saySize({ width, height }: Pick<Board, 'width' | 'height'>, units: Units): string {
  return `${lengthText(width, units, 0)} × ${lengthText(height, units, 0)} ${units === 'inch' ? 'in' : 'mm'}`;
}

export const revealSides: Readonly<Record<RevealBoard['side'], string>> = {
  left: 'left side',
  right: 'right side',
  head: 'head',
  sill: 'sill',
};
