import type { AsBuilt, Dab, Packing } from '../../liningPlan.ts';
import type { Warning } from '../../refusal.ts';
import type { Board, GaugeScrew } from '../../results.ts';
import type { Lining, Wall } from '../../survey.ts';
import { dabVolumeL } from '../dabs.ts';
import { usualScrewLengthsMm, type LiningSettings } from '../defaults.ts';
import { growSides, type Sides } from '../rects.ts';
import { planScrews, type ScrewGround } from '../screws.ts';
import { readAsBuilt, warnOfAsBuilt } from './asBuilt.ts';
import { countColumns } from './columns.ts';
import { integrateBed, measureSides } from './footprint.ts';
import { layDabs, type Footprint } from './layDabs.ts';
import { packBoard, type BoardFixing } from './packBoard.ts';
import { describeStrip, listStripCuts, type Packed } from './packing.ts';
import { blockCutouts, layStrips } from './strips.ts';

/** What holds the boards: screws to gauge them by, packing, adhesive with its places, and the screws as set. */
export interface Fixing {
  readonly screws: readonly GaugeScrew[];
  readonly packing: Packing;
  readonly dabs: readonly Dab[];
  readonly asBuilt: AsBuilt;
  readonly warnings: readonly Warning[];
}

const square = ({ along, up }: GaugeScrew, clearMm: number): Sides =>
  growSides({ left: along, right: along, bottom: up, top: up }, clearMm);

/** A footprint with its adhesive: over a packing strip as deep as that leaves, on masonry the bed, up to the most over packing. */
function fillFootprint(
  { kind, sides, on }: Footprint,
  board: string,
  packing: string | null,
  { bed, limits }: ScrewGround,
): Dab {
  const areaMm2 = measureSides(sides);
  const mostMm = Math.max(limits.max, limits.packedMax);
  const depthMm = on ? on.overMm : integrateBed(sides, bed, mostMm) / areaMm2;
  return {
    board,
    kind,
    packing,
    along: sides.left,
    up: sides.bottom,
    width: sides.right - sides.left,
    height: sides.top - sides.bottom,
    depthMm,
    volumeL: dabVolumeL(areaMm2, depthMm),
  };
}

/**
 * All that holds the boards, in the order in which one gives way to the other: strips of adhesive and packing by the board's shape and
 * the bed, screws clear of them where they can be, packing and strips cut round the screws that cannot, dabs round the screws.
 * `ground`: bed and sigma at the nodes without NaN. The volume of a board's adhesive is the sum over its `dabs` and its
 * `packing.strips`.
 */
export function planFixing(
  boards: readonly Board[],
  wall: Wall,
  ground: ScrewGround,
  lining: Lining,
  settings: LiningSettings,
): Fixing {
  const stripMm = lining.board.thickness;
  const fixings = boards.map((board): BoardFixing => ({
    board,
    strips: layStrips(board, boards, wall, settings),
    columns: countColumns(board, lining.board, settings),
    cutouts: blockCutouts(board, wall, settings),
  }));
  const pack = (fixing: BoardFixing, taken: readonly Sides[]): Packed[] =>
    packBoard(fixing, taken, ground, stripMm, settings);
  const adhesive = new Map(
    fixings.map((fixing) => [
      fixing.board.id,
      [...fixing.strips, ...pack(fixing, [])].map(({ sides }) => sides),
    ]),
  );
  const lengthsMm = lining.screwLengths ?? usualScrewLengthsMm;
  const screws = planScrews(boards, wall, ground, settings, adhesive, lengthsMm);
  const strips: Packing['strips'][number][] = [];
  const dabs: Dab[] = [];
  const warnings: Warning[] = [];
  for (const fixing of fixings) {
    const { id } = fixing.board;
    const own = screws
      .filter(({ board }) => board === id)
      .map((each) => square(each, settings.screwDabClearMm));
    const packed = pack(fixing, own);
    const { footprints, short } = layDabs(fixing, { screws: own, packed }, settings);
    const names = new Map(packed.map((each, k) => [each, `P${strips.length + k + 1}`]));
    strips.push(
      ...packed.map((each) => {
        const above = footprints.filter(({ on }) => on === each).map(({ sides }) => sides);
        return describeStrip(each, names.get(each)!, id, above, ground.bed, stripMm);
      }),
    );
    const filled = footprints.map((each) => fillFootprint(each, id, each.on && names.get(each.on)!, ground));
    dabs.push(...filled);
    const { max, packedMax } = lining.bed;
    const shallow = filled.filter(
      ({ packing, depthMm }) =>
        packing === null && depthMm > max + settings.screwToleranceMm && depthMm <= packedMax - 1e-6,
    ).length;
    if (shallow > 0) warnings.push({ code: 'packing_shallow', subject: id, count: shallow });
    if (short > 1e-9) warnings.push({ code: 'contact_short', subject: id, count: Math.ceil(100 * short) });
  }
  const tooShort = screws.filter(({ screwMm }) => screwMm === null).length;
  if (tooShort > 0) warnings.push({ code: 'screw_too_short', subject: 'wall', count: tooShort });
  const atServices = screws.filter(({ services }) => services !== null).length;
  if (atServices > 0) warnings.push({ code: 'screw_at_services', subject: 'wall', count: atServices });
  const asBuilt = readAsBuilt(boards, screws, ground, lining, settings);
  return {
    screws,
    packing: { strips, cuts: listStripCuts(strips) },
    dabs,
    asBuilt,
    warnings: [...warnings, ...warnOfAsBuilt(asBuilt)],
  };
}
