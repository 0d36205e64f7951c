import type { Dab, PackingStrip, RevealBoard } from '../liningPlan.ts';
import type { Adhesive, Board, BoardDabs, BoardMix } from '../results.ts';
import type { LiningSettings } from './defaults.ts';
import { endsOver, measureBoard } from './fixing/boardFace.ts';
import { sampleNodes, type NodeGrid } from './nodeGrid.ts';
import { sidesOf, visitTiles, type Sides } from './rects.ts';

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

/** Mean bed (mm) behind a board without its cut-outs; where an end slopes, over the points of the rule that it covers. */
function meanBed(board: Board, bed: NodeGrid): number {
  let [area, volume] = [0, 0];
  const visit = ({ left, right, bottom, top }: Sides) => {
    for (const a of gauss) {
      const along = left + a * (right - left);
      const ends = endsOver(board, along, along);
      for (const b of gauss) {
        const up = bottom + b * (top - bottom);
        if (up < ends.bottom || up > ends.top) continue;
        const quarter = ((right - left) * (top - bottom)) / 4;
        area += quarter;
        volume += quarter * sampleNodes(bed, along, up);
      }
    }
  };
  visitTiles(sidesOf(board), board.cutouts.map(sidesOf), visit, bed.stepMm);
  return volume / area;
}

/** What is bonded on: dabs and strips of adhesive behind the boards, packing strips, boards of reveals. */
export interface Laid {
  readonly dabs: readonly Dab[];
  readonly strips: readonly PackingStrip[];
  readonly reveals: readonly RevealBoard[];
}

const sum = <T>(items: readonly T[], of: (item: T) => number) =>
  items.reduce((total, item) => total + of(item), 0);
const areaOf = ({ width, height }: Dab) => width * height;
const countDistinct = (lengthsMm: readonly number[]) => new Set(lengthsMm.map(Math.round)).size;

/** The dabs of a board in short: those that are no strips. */
function summarizeDabs(dabs: readonly Dab[]): BoardDabs {
  const own = dabs.filter(({ kind }) => kind === 'dab');
  const count = own.length;
  return {
    columns: countDistinct(own.map(({ along, width }) => along + width / 2)),
    rows: countDistinct(own.map(({ up, height }) => up + height / 2)),
    count,
    footprintMm2: count > 0 ? sum(own, areaOf) / count : 0,
    volumeL: count > 0 ? sum(own, ({ volumeL }) => volumeL) / count : 0,
  };
}

function mixVolume(volumeL: number, settings: LiningSettings) {
  const powderKg = powderOf(volumeL, settings);
  const mixes = Math.max(1, Math.ceil(powderKg / settings.mixMostKg - 1e-9));
  return { volumeL, powderKg, waterL: powderKg * settings.waterLPerKg, mixes };
}

function mixBoard(board: Board, bed: NodeGrid, { dabs, strips }: Laid, settings: LiningSettings): BoardMix {
  const isOwn = (each: { readonly board: string }) => each.board === board.id;
  const own = dabs.filter(isOwn);
  const volumeL = sum([...own, ...strips.filter(isOwn)], (each) => each.volumeL);
  return {
    board: board.id,
    areaM2: measureBoard(board) / 1e6,
    meanBedMm: meanBed(board, bed),
    ...mixVolume(volumeL, settings),
    dabs: summarizeDabs(own),
  };
}

/** A reveal is not surveyed: a strip of adhesive along both edges of its board, on a bed as the settings say. */
function mixReveal({ id, width, length }: RevealBoard, settings: LiningSettings): BoardMix {
  const areaM2 = (width * length) / 1e6;
  const { revealBedMm, revealShare } = settings;
  return {
    board: id,
    areaM2,
    meanBedMm: revealBedMm,
    ...mixVolume(revealShare * areaM2 * revealBedMm, settings),
    dabs: summarizeDabs([]),
  };
}

/**
 * Adhesive for the boards: the sum over the dabs and strips behind each, and the adhesive under its packing strips; then
 * the boards of reveals. Powder, water and bags with waste; one mix for each board, more where one would not go into a
 * bucket. `coverage` is the pressed contact with the backs of the boards, those of reveals apart.
 * `bed`: the bed at the nodes, without NaN. Source: one mix = one board, common practice, no source.
 */
export function planAdhesive(
  boards: readonly Board[],
  bed: NodeGrid,
  laid: Laid,
  settings: LiningSettings,
): Adhesive {
  const ofBoards = boards.map((board) => mixBoard(board, bed, laid, settings));
  const perBoard = [...ofBoards, ...laid.reveals.map((reveal) => mixReveal(reveal, settings))];
  const powderKg = sum(perBoard, (mix) => mix.powderKg);
  const pressedM2 = sum(laid.dabs, areaOf) / 1e6;
  return {
    coverage: pressedM2 / sum(ofBoards, ({ areaM2 }) => areaM2),
    volumeL: sum(perBoard, (mix) => mix.volumeL),
    powderKg,
    waterL: sum(perBoard, (mix) => mix.waterL),
    bags: Math.ceil(powderKg / settings.bagKg - 1e-9),
    bagKg: settings.bagKg,
    wasteShare: settings.wasteShare,
    mixes: sum(perBoard, (mix) => mix.mixes),
    potLifeMin: settings.potLifeMin,
    perBoard,
  };
}
