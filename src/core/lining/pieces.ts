import { clipSides, coversSides, rectOf, sidesOf, sortCuts, type Sides } from './rects.ts';
import type { WallRect } from '../survey.ts';

/** A connected piece of board: the rectangle it is cut from, and what is cut out of that. */
export interface Piece {
  readonly rect: WallRect;
  readonly cutouts: readonly WallRect[];
}

/** A rectangle cut into cells along the sides of its holes; `label`: -1 in a hole, else the number of the cell's piece. */
interface CellMap {
  readonly columns: readonly number[];
  readonly rows: readonly number[];
  readonly label: Int32Array;
  readonly count: number;
}

const cellSides = ({ columns, rows }: CellMap, k: number): Sides => {
  const i = k % (columns.length - 1);
  const j = Math.floor(k / (columns.length - 1));
  return { left: columns[i]!, right: columns[i + 1]!, bottom: rows[j]!, top: rows[j + 1]! };
};

/** Gives every cell outside the holes the number of the piece it hangs together with (by whole sides). */
function labelCells(frame: Sides, holes: readonly Sides[]): CellMap {
  const columns = sortCuts(
    holes.flatMap((hole) => [hole.left, hole.right]),
    frame.left,
    frame.right,
  );
  const rows = sortCuts(
    holes.flatMap((hole) => [hole.bottom, hole.top]),
    frame.bottom,
    frame.top,
  );
  const nx = columns.length - 1;
  const label = new Int32Array(nx * (rows.length - 1)).fill(-2);
  const map = { columns, rows, label };
  for (let k = 0; k < label.length; k++)
    if (holes.some((hole) => clipSides(cellSides({ ...map, count: 0 }, k), hole))) label[k] = -1;
  let count = 0;
  for (let start = 0; start < label.length; start++) {
    if (label[start] !== -2) continue;
    const waiting = [start];
    while (waiting.length > 0) {
      const k = waiting.pop()!;
      if (label[k] !== -2) continue;
      label[k] = count;
      if (k % nx > 0) waiting.push(k - 1);
      if (k % nx < nx - 1) waiting.push(k + 1);
      if (k >= nx) waiting.push(k - nx);
      if (k + nx < label.length) waiting.push(k + nx);
    }
    count++;
  }
  return { ...map, count };
}

/**
 * The pieces that are left of a rectangle when the holes are taken out, from the floor up: an opening across its whole
 * width leaves one above and one below. Each piece has the rectangle round it and its cut-outs: the holes as far as they
 * reach into it, and the cells that belong to another piece.
 */
export function cutPieces(rect: WallRect, holes: readonly WallRect[]): Piece[] {
  const frame = sidesOf(rect);
  const clipped = holes.map((hole) => clipSides(sidesOf(hole), frame)).filter((hole) => hole !== null);
  const map = labelCells(frame, clipped);
  const cells = [...map.label.keys()];
  const pieces = Array.from({ length: map.count }, (_, piece): Piece => {
    const own = cells.filter((k) => map.label[k] === piece).map((k) => cellSides(map, k));
    const round: Sides = {
      left: Math.min(...own.map((cell) => cell.left)),
      right: Math.max(...own.map((cell) => cell.right)),
      bottom: Math.min(...own.map((cell) => cell.bottom)),
      top: Math.max(...own.map((cell) => cell.top)),
    };
    const foreign = cells
      .filter((k) => map.label[k]! >= 0 && map.label[k] !== piece)
      .map((k) => cellSides(map, k));
    const cuts = [...clipped, ...foreign].map((cut) => clipSides(cut, round)).filter((cut) => cut !== null);
    // A cut-out that lies within another (or equals an earlier one) says nothing new.
    const cutouts = cuts.filter(
      (cut, i) =>
        !cuts.some((other, j) => j !== i && coversSides(other, cut) && (j < i || !coversSides(cut, other))),
    );
    return { rect: rectOf(round), cutouts: cutouts.map(rectOf) };
  });
  return pieces.sort((a, b) => a.rect.up - b.rect.up || a.rect.along - b.rect.along);
}
