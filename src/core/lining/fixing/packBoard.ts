import type { Board } from '../../results.ts';
import type { Lining } from '../../survey.ts';
import type { LiningSettings } from '../defaults.ts';
import type { NodeGrid } from '../nodeGrid.ts';
import { clipSides, growSides, type Sides } from '../rects.ts';
import { clipToBoard, endsOver } from './boardFace.ts';
import { placeColumns, type Columns } from './columns.ts';
import { packBand, type Packed } from './packing.ts';
import { freeSpans, risesIn, runsIn } from './spans.ts';
import type { Strip } from './strips.ts';

/** What stands behind one board: its strips and columns of adhesive, and where no adhesive may come. */
export interface BoardFixing {
  readonly board: Board;
  readonly strips: readonly Strip[];
  readonly columns: Columns;
  /** Cut-outs with the room that adhesive keeps from them. */
  readonly cutouts: readonly Sides[];
}

/** A strip of adhesive as wide as packing under it is: widened away from its edge where nothing stands there. */
function widenStrip({ sides, inward }: Strip, fixing: BoardFixing, settings: LiningSettings): Sides {
  const acrossMm =
    inward === 'left' || inward === 'right' ? sides.right - sides.left : sides.top - sides.bottom;
  const moreMm = Math.max(0, settings.packingWidthMm - acrossMm);
  const sign = inward === 'left' || inward === 'bottom' ? -1 : 1;
  const wide = { ...sides, [inward]: sides[inward] + sign * moreMm };
  const inside = clipToBoard(fixing.board, wide, settings.dabEdgeMm);
  const isWhole = inside?.[inward] === wide[inward];
  const others = fixing.strips.filter((each) => each.sides !== sides).map((each) => each.sides);
  const isClear = ![...fixing.cutouts, ...others].some((each) => clipSides(each, wide));
  return isWhole && isClear ? wide : sides;
}

/**
 * The packing strips behind one board: under its strips of adhesive at edges and openings first, then under the columns of dabs; none
 * over another and none in `taken`.
 */
export function packBoard(
  fixing: BoardFixing,
  taken: readonly Sides[],
  ground: { readonly bed: NodeGrid; readonly limits: Lining['bed'] },
  stripMm: number,
  settings: LiningSettings,
): Packed[] {
  const { board, strips, columns, cutouts } = fixing;
  const { dabEdgeMm, screwDabClearMm } = settings;
  const packed: Packed[] = [];
  for (const strip of strips) {
    if (strip.kind === 'round_box') continue;
    const wide = widenStrip(strip, fixing, settings);
    const isLevel = strip.axis === 'along';
    const whole = isLevel ? { from: wide.left, to: wide.right } : { from: wide.bottom, to: wide.top };
    const across = isLevel ? { from: wide.bottom, to: wide.top } : { from: wide.left, to: wide.right };
    const blocked = [...taken, ...packed.map((each) => each.sides)];
    for (const { from, to } of freeSpans(whole, (isLevel ? runsIn : risesIn)(across, blocked))) {
      const band = isLevel ? { ...wide, left: from, right: to } : { ...wide, bottom: from, top: to };
      packed.push(...packBand(band, strip.axis, ground, stripMm, settings));
    }
  }
  const kept = [...strips, ...packed].map(({ sides }) => growSides(sides, screwDabClearMm));
  for (const band of placeColumns(board, columns, settings.packingWidthMm, settings)) {
    const ends = endsOver(board, band.from, band.to);
    const whole = { from: ends.bottom + dabEdgeMm, to: ends.top - dabEdgeMm };
    const blocked = risesIn(band, [...taken, ...kept, ...cutouts]);
    for (const { from, to } of freeSpans(whole, blocked)) {
      const sides = { left: band.from, right: band.to, bottom: from, top: to };
      packed.push(...packBand(sides, 'up', ground, stripMm, settings));
    }
  }
  return packed;
}
