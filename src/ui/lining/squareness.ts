/** How one finds out how far an adjoining wall is out of square: at which end it stands, and two offsets from a line square to the laser's plane (mm). */
export interface SquareOffsets {
  readonly end: 'left' | 'right';
  /** From that line sideways to the adjoining wall, where it meets this wall. */
  readonly nearMm: number;
  /** The same further into the room. */
  readonly farMm: number;
  /** How far apart the two were taken. */
  readonly apartMm: number;
}

/**
 * How much further out the boards' plane must stand per metre along the wall to be square to the adjoining wall (mm per m): as much as
 * that wall runs to the left, a metre into the room.
 * @example findSquareBy({ end: 'left', nearMm: 500, farMm: 506, apartMm: 2000 }) // 3
 * @example findSquareBy({ end: 'right', nearMm: 500, farMm: 506, apartMm: 2000 }) // -3
 */
export function findSquareBy({ end, nearMm, farMm, apartMm }: SquareOffsets): number {
  const outwards = ((farMm - nearMm) / apartMm) * 1000;
  return end === 'left' ? outwards : -outwards;
}
