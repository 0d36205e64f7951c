import type { WayFigures } from '../liningPlan.ts';
import type { Lining } from '../survey.ts';
import { boardKgPerM2 } from './boards/lifting.ts';
import type { LiningSettings } from './defaults.ts';

/**
 * Boards on adhesive, boards on a frame, and gypsum plaster, each made flat to the same plane: the mean distance of the new face from the
 * masonry, and what a square metre weighs. A frame stands in front of the high point; plaster is as thin there as it may be, and as
 * thick on the mean as it must be. No packing is deducted. Source: DEVELOPERS.md, "From surface to lining".
 * `meanBedMm`: mean bed of the plan, whose least is `lining.bed.min`.
 */
export function compareWays(
  meanBedMm: number,
  { board, bed }: Pick<Lining, 'board' | 'bed'>,
  settings: LiningSettings,
): WayFigures[] {
  const boardKg = boardKgPerM2(settings, board.thickness);
  const hollowMm = meanBedMm - bed.min;
  const plasterMm = Math.max(settings.plasterMeanMm, hollowMm + settings.plasterLeastMm);
  const setKgPerL = settings.powderKgPerL * settings.setPerPowder;
  return [
    {
      way: 'bonded',
      thicknessMm: meanBedMm + board.thickness,
      massKgPerM2: boardKg + settings.coverageShare * meanBedMm * setKgPerL,
    },
    {
      way: 'frame',
      thicknessMm: hollowMm + settings.frameDepthMm + board.thickness,
      massKgPerM2: boardKg + settings.frameKgPerM2,
    },
    { way: 'plaster', thicknessMm: plasterMm, massKgPerM2: plasterMm * settings.plasterKgPerL },
  ];
}
