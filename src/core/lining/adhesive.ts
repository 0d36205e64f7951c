import type { Adhesive, Board, BoardMix } from '../results.ts';
import type { Lining } from '../survey.ts';
import { planDabs } from './dabs.ts';
import type { LiningSettings } from './defaults.ts';
import { sampleNodes, type NodeGrid } from './nodeGrid.ts';
import { sidesOf, visitTiles } from './rects.ts';

/**
 * Layers of board strip bonded on first where the bed is deeper than the adhesive may be: the fewest that leave the two
 * dabs, under and over the strip, at most `max` each. 0 where the bed is within its limit, and where it is so little over
 * it that a strip would leave less than two least dabs (those spots take a full dab).
 * @example packingLayers(30, { min: 5, max: 20, packedMax: 40 }, 12.5) // 1
 */
export function packingLayers(bedMm: number, { min, max }: Lining['bed'], stripMm: number): number {
  if (bedMm <= max) return 0;
  const layers = Math.max(1, Math.ceil((bedMm - 2 * max) / stripMm));
  return bedMm - layers * stripMm < 2 * min ? 0 : layers;
}

/**
 * Adhesive (mm) between masonry and board at a bed depth: the bed without the packing strips. Beyond the packing limit
 * the wall is dubbed out to that limit first, so no more is counted.
 * @example adhesiveDepth(30, { min: 5, max: 20, packedMax: 40 }, 12.5) // 17.5
 */
export function adhesiveDepth(bedMm: number, limits: Lining['bed'], stripMm: number): number {
  const depth = Math.min(bedMm, Math.max(limits.max, limits.packedMax));
  return depth - packingLayers(depth, limits, stripMm) * stripMm;
}

/**
 * Powder (kg) for a volume of pressed adhesive (L), waste included.
 * Source: kg/m2 = coverage x mean bed x 1.05 x (1 + waste), reckoned from the water/powder ratio (DEVELOPERS.md).
 * @example powderOf(2.5, { powderKgPerL: 1.05, wasteShare: 0 }) // 2.625
 */
export function powderOf(
  volumeL: number,
  { powderKgPerL, wasteShare }: Pick<LiningSettings, 'powderKgPerL' | 'wasteShare'>,
): number {
  return volumeL * powderKgPerL * (1 + wasteShare);
}

/** Points of Gauss's two-point rule on a stretch 0..1: exact for a bed that is bilinear in its cell. */
const gauss = [0.5 - Math.sqrt(1 / 12), 0.5 + Math.sqrt(1 / 12)] as const;

/** Area (mm2) of a board without its cut-outs, and the bed and the adhesive behind it (mm3, as if it covered all). */
function integrateBoard(board: Board, bed: NodeGrid, lining: Lining) {
  let [areaMm2, bedMm3, adhesiveMm3] = [0, 0, 0];
  visitTiles(
    sidesOf(board),
    board.cutouts.map(sidesOf),
    ({ left, right, bottom, top }) => {
      const quarterMm2 = ((right - left) * (top - bottom)) / 4;
      for (const a of gauss) {
        for (const b of gauss) {
          const bedMm = sampleNodes(bed, left + a * (right - left), bottom + b * (top - bottom));
          areaMm2 += quarterMm2;
          bedMm3 += quarterMm2 * bedMm;
          adhesiveMm3 += quarterMm2 * adhesiveDepth(bedMm, lining.bed, lining.board.thickness);
        }
      }
    },
    bed.stepMm,
  );
  return { areaMm2, bedMm3, adhesiveMm3 };
}

function mixBoard(board: Board, bed: NodeGrid, lining: Lining, settings: LiningSettings): BoardMix {
  const { areaMm2, bedMm3, adhesiveMm3 } = integrateBoard(board, bed, lining);
  const volumeL = (settings.coverageShare * adhesiveMm3) / 1e6;
  const powderKg = powderOf(volumeL, settings);
  return {
    board: board.id,
    areaM2: areaMm2 / 1e6,
    meanBedMm: bedMm3 / areaMm2,
    volumeL,
    powderKg,
    waterL: powderKg * settings.waterLPerKg,
    mixes: Math.max(1, Math.ceil(powderKg / settings.mixMostKg - 1e-9)),
    dabs: planDabs(board, lining.board, areaMm2, adhesiveMm3 / areaMm2, settings),
  };
}

/**
 * Adhesive for the boards: the bed integrated over each board without its cut-outs, times the share that is in contact;
 * powder, water and bags with waste; one mix for each board, more where one would not go into a bucket.
 * `bed`: the bed at the nodes, without NaN. Source: one mix = one board, common practice, no source.
 */
export function planAdhesive(
  boards: readonly Board[],
  bed: NodeGrid,
  lining: Lining,
  settings: LiningSettings,
): Adhesive {
  const perBoard = boards.map((board) => mixBoard(board, bed, lining, settings));
  const total = (of: (mix: BoardMix) => number) => perBoard.reduce((sum, mix) => sum + of(mix), 0);
  const powderKg = total((mix) => mix.powderKg);
  return {
    coverage: settings.coverageShare,
    volumeL: total((mix) => mix.volumeL),
    powderKg,
    waterL: total((mix) => mix.waterL),
    bags: Math.ceil(powderKg / settings.bagKg - 1e-9),
    bagKg: settings.bagKg,
    wasteShare: settings.wasteShare,
    mixes: total((mix) => mix.mixes),
    potLifeMin: settings.potLifeMin,
    perBoard,
  };
}
