import type { RevealBoard } from '../../liningPlan.ts';
import type { Lining, Opening, StockSize, Wall } from '../../survey.ts';
import type { LiningSettings } from '../defaults.ts';
import { boardKgPerM2 } from './lifting.ts';
import { closeMm } from './pieceKind.ts';

/** The longest piece of reveal that the stock gives at this depth (mm); Infinity where no stock board is wide enough. */
function longestMm(depthMm: number, stock: readonly StockSize[]): number {
  const lengths = stock.flatMap(({ width, length }) => [
    ...(depthMm <= width + closeMm ? [length] : []),
    ...(depthMm <= length + closeMm ? [width] : []),
  ]);
  return lengths.length > 0 ? Math.max(...lengths) : Infinity;
}

/** Sides of an opening that are reveals, and how long their boards are (mm). */
function listSides(
  opening: Opening,
  wall: Wall,
  lining: Lining,
  settings: LiningSettings,
): [RevealBoard['side'], number][] {
  const left = Math.max(0, opening.along);
  const right = Math.min(wall.width, opening.along + opening.width);
  const bottom = Math.max(0, opening.up);
  const top = Math.min(wall.height, opening.up + opening.height);
  const takesMm = lining.board.thickness + settings.revealBedMm;
  const hasLeft = opening.along > closeMm;
  const hasRight = opening.along + opening.width < wall.width - closeMm;
  const hasHead = opening.up + opening.height < wall.height - settings.ceilingGapMm - settings.leastPieceMm;
  const hasSill = opening.kind === 'window' && bottom > settings.floorGapMm + settings.leastPieceMm;
  // The head goes up first, across the whole opening; the sides stand under it; the sill lies between the sides.
  const upright = top - bottom - (hasHead ? takesMm : 0) - (hasSill || bottom > 0 ? 0 : settings.floorGapMm);
  const between = right - left - takesMm * (Number(hasLeft) + Number(hasRight));
  const sides: [RevealBoard['side'], number, boolean][] = [
    ['left', upright, hasLeft],
    ['right', upright, hasRight],
    ['head', right - left, hasHead],
    ['sill', between, hasSill],
  ];
  return sides.flatMap(([side, length, has]) => (has && length > closeMm ? [[side, length]] : []));
}

/**
 * The boards of the openings' reveals, for openings that say how deep theirs are: the head across the whole opening, the
 * sides standing under the head's board, the sill between the sides' boards; at the floor the sides keep the floor gap. A
 * side longer than the stock is made of equal parts. Common practice, no source.
 */
export function planReveals(
  wall: Wall,
  lining: Lining,
  stock: readonly StockSize[],
  settings: LiningSettings,
): RevealBoard[] {
  const kgPerM2 = boardKgPerM2(settings, lining.board.thickness);
  return wall.openings.flatMap((opening) => {
    const depthMm = opening.reveal ?? 0;
    if (!(depthMm > 0)) return [];
    return listSides(opening, wall, lining, settings).flatMap(([side, totalMm]) => {
      const parts = Math.max(1, Math.ceil(totalMm / longestMm(depthMm, stock) - closeMm));
      const length = totalMm / parts;
      return Array.from({ length: parts }, (_, k): RevealBoard => ({
        id: `${opening.id}-${side}${parts > 1 ? `-${k + 1}` : ''}`,
        opening: opening.id,
        side,
        width: depthMm,
        length,
        massKg: ((depthMm * length) / 1e6) * kgPerM2,
      }));
    });
  });
}
