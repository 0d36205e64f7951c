import type { StockSize, WallRect } from '../../survey.ts';
import type { LaidPiece, LaidSheet } from './laidSheet.ts';
import { closeMm, fitsSize, type CutItem } from './pieceKind.ts';

interface Spot {
  readonly sheet: number;
  readonly offcut: number;
  readonly turned: boolean;
  /** Area left over in the offcut (mm2): the least is the best. */
  readonly restMm2: number;
}

const sizeOf = ({ width, length }: CutItem, turned: boolean): readonly [number, number] =>
  turned ? [length, width] : [width, length];

function findSpot(item: CutItem, sheets: readonly LaidSheet[], turned = false): Spot | null {
  const [width, length] = sizeOf(item, turned);
  let best: Spot | null = null;
  sheets.forEach(({ offcuts }, sheet) =>
    offcuts.forEach((room, offcut) => {
      if (width > room.width + closeMm || length > room.height + closeMm) return;
      const restMm2 = room.width * room.height - width * length;
      if (!best || restMm2 < best.restMm2 - closeMm) best = { sheet, offcut, turned, restMm2 };
    }),
  );
  // Turned only where it does not go in upright: strips side by side take fewer cuts.
  return best ?? (item.mayTurn && !turned ? findSpot(item, sheets, true) : null);
}

/** Cuts an item from the lower left corner of an offcut by at most two cuts; the larger rest stays whole. */
function cutFrom(item: CutItem, sheet: LaidSheet, { offcut, turned }: Spot): LaidSheet {
  const room = sheet.offcuts[offcut]!;
  const [width, length] = sizeOf(item, turned);
  const [sideMm, overMm] = [room.width - width, room.height - length];
  const isWhole = sideMm * room.height >= overMm * room.width;
  const beside: WallRect = {
    along: room.along + width,
    up: room.up,
    width: sideMm,
    height: isWhole ? room.height : length,
  };
  const over: WallRect = {
    along: room.along,
    up: room.up + length,
    width: isWhole ? width : room.width,
    height: overMm,
  };
  const rests = [beside, over].filter((rest) => rest.width > closeMm && rest.height > closeMm);
  const piece: LaidPiece = { item, x: room.along, y: room.up, width, length, turn: turned ? 90 : 0 };
  return {
    ...sheet,
    pieces: [...sheet.pieces, piece],
    offcuts: [...sheet.offcuts.filter((_, k) => k !== offcut), ...rests],
    cuts: sheet.cuts + rests.length,
  };
}

/**
 * Cuts further items from what is left of the sheets, largest first, each from the offcut it fills best, and from a
 * further stock board where none will do: the smallest that takes it. No proof of being the fewest comes with it.
 */
export function fillOffcuts(
  sheets: readonly LaidSheet[],
  items: readonly CutItem[],
  stock: readonly StockSize[],
): LaidSheet[] {
  const filled = [...sheets];
  const bySize = [...stock].sort((a, b) => a.width * a.length - b.width * b.length);
  const byArea = [...items].sort((a, b) => b.width * b.length - a.width * a.length);
  for (const item of byArea) {
    let spot = findSpot(item, filled);
    if (!spot) {
      const size = bySize.find((each) => fitsSize(item, each));
      if (!size) throw new Error(`expected a stock board for ${item.id}, got none`);
      const whole: WallRect = { along: 0, up: 0, width: size.width, height: size.length };
      filled.push({ stock: size, pieces: [], offcuts: [whole], cuts: 0 });
      spot = findSpot(item, filled)!;
    }
    filled[spot.sheet] = cutFrom(item, filled[spot.sheet]!, spot);
  }
  return filled;
}
