/** The figures 0 to 9 as polylines (x, y, x, y ...) in a box 4 wide and 6 high, y down. */
const STROKES: readonly (readonly (readonly number[])[])[] = [
  [[1.1, 0, 2.9, 0, 4, 1.3, 4, 4.7, 2.9, 6, 1.1, 6, 0, 4.7, 0, 1.3, 1.1, 0]],
  [[0.7, 1.4, 2.2, 0, 2.2, 6]],
  [[0, 1.4, 1, 0, 3, 0, 4, 1.2, 4, 2.3, 0, 6, 4, 6]],
  [
    [0, 0.7, 1, 0, 3, 0, 4, 1, 4, 1.9, 3, 2.8, 1.5, 2.8],
    [3, 2.8, 4, 3.9, 4, 5, 3, 6, 1, 6, 0, 5.2],
  ],
  [[3, 6, 3, 0, 0, 4.2, 4, 4.2]],
  [[3.8, 0, 0.5, 0, 0.3, 2.6, 2.6, 2.3, 4, 3.4, 4, 4.8, 3, 6, 1, 6, 0, 5.2]],
  [[3.6, 0.4, 2.4, 0, 1.2, 0.5, 0.2, 2, 0, 4.4, 1, 6, 3, 6, 4, 4.9, 4, 3.6, 3, 2.7, 1.2, 2.8, 0, 4]],
  [[0, 0, 4, 0, 1.4, 6]],
  [
    [1, 0, 3, 0, 3.8, 0.9, 3.8, 1.9, 3, 2.8, 1, 2.8, 0.2, 1.9, 0.2, 0.9, 1, 0],
    [1, 2.8, 0, 3.9, 0, 5, 1, 6, 3, 6, 4, 5, 4, 3.9, 3, 2.8],
  ],
  [[0.4, 5.6, 1.6, 6, 2.8, 5.5, 3.8, 4, 4, 1.6, 3, 0, 1, 0, 0, 1.1, 0, 2.4, 1, 3.3, 2.8, 3.2, 4, 2]],
];

const GAP = 1.6;

/** Width of a whole number's figures in units of the box. @example widthOfNumber(12) // 9.6 */
export function widthOfNumber(number: number): number {
  const count = String(number).length;
  return 4 * count + GAP * (count - 1);
}

/** Distance from a point to the nearest stroke of a whole number, its left upper corner at 0, 0 (box units). */
export function distanceToNumber(number: number, x: number, y: number): number {
  const text = String(number);
  let nearest = 9;
  for (let i = 0; i < text.length; i++) {
    const left = x - i * (4 + GAP);
    if (left < -1 || left > 5) continue;
    for (const line of STROKES[text.charCodeAt(i) - 48]!)
      for (let k = 0; k + 3 < line.length; k += 2)
        nearest = Math.min(
          nearest,
          distanceToSegment(left, y, line[k]!, line[k + 1]!, line[k + 2]!, line[k + 3]!),
        );
  }
  return nearest;
}

function distanceToSegment(x: number, y: number, x0: number, y0: number, x1: number, y1: number): number {
  const dx = x1 - x0;
  const dy = y1 - y0;
  const t = Math.max(0, Math.min(1, ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy)));
  const ex = x - x0 - t * dx;
  const ey = y - y0 - t * dy;
  return Math.sqrt(ex * ex + ey * ey);
}
