import type { PackingStrip } from '../../liningPlan.ts';
import type { Adhesive, Board } from '../../results.ts';
import type { Lining, WallRect } from '../../survey.ts';
import type { Laid } from '../adhesive.ts';
import type { LiningSettings } from '../defaults.ts';
import type { MixItems } from './batches.ts';

/** Boards or strips in the order they are fixed: from the end that the boards start from, in one column from the floor. */
export function orderFixing<T extends WallRect>(items: readonly T[], start: Lining['start']): T[] {
  const startMm = ({ along, width }: WallRect) => (start === 'right' ? -(along + width) : along);
  return [...items].sort((a, b) => startMm(a) - startMm(b) || a.up - b.up);
}

/** All that is bedded in the order of the work: packing strips, boards less what is under their strips, boards of reveals. */
export function listMixItems(
  boards: readonly Board[],
  { strips, reveals }: Pick<Laid, 'strips' | 'reveals'>,
  { perBoard }: Adhesive,
  { start }: Pick<Lining, 'start'>,
  { pressMin, pieceMin }: Pick<LiningSettings, 'pressMin' | 'pieceMin'>,
): MixItems {
  const mixed = new Map(perBoard.map(({ board, volumeL }) => [board, volumeL]));
  const packed = (id: string) =>
    strips.filter(({ board }) => board === id).reduce((total, strip) => total + strip.volumeL, 0);
  return {
    packing: orderFixing(strips, start).map(({ id, volumeL }: PackingStrip) => ({
      id,
      volumeL,
      placeMin: pieceMin,
    })),
    boards: orderFixing(boards, start).map(({ id }) => ({
      id,
      volumeL: mixed.get(id)! - packed(id),
      placeMin: pressMin,
    })),
    reveals: reveals.map(({ id }) => ({ id, volumeL: mixed.get(id)!, placeMin: pieceMin })),
  };
}
