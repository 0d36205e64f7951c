import type { jsPDF } from 'jspdf';

const steps = /([MmLlHhVvZz])([^MmLlHhVvZz]*)/g;

/**
 * Begins a path in a PDF page as an SVG path says (M, L, H, V and Z, both cases: all that our drawings use). Returns
 * whether there is anything to paint.
 */
export function drawPath(doc: Pick<jsPDF, 'moveTo' | 'lineTo' | 'close'>, d: string): boolean {
  let [x, y] = [0, 0];
  let [startX, startY] = [0, 0];
  let drawn = false;
  for (const [, letter = '', rest = ''] of d.matchAll(steps)) {
    const numbers = (rest.match(/-?\d*\.?\d+(?:e-?\d+)?/g) ?? []).map(Number);
    const isRelative = letter === letter.toLowerCase();
    const command = letter.toUpperCase();
    if (command === 'Z') {
      doc.close();
      [x, y] = [startX, startY];
      continue;
    }
    const stride = command === 'H' || command === 'V' ? 1 : 2;
    for (let k = 0; k + stride <= numbers.length; k += stride) {
      const [first, second] = [numbers[k]!, numbers[k + 1]!];
      const [baseX, baseY] = isRelative ? [x, y] : [0, 0];
      if (command !== 'V') x = baseX + first;
      if (command === 'V') y = baseY + first;
      else if (command !== 'H') y = baseY + second;
      // further pairs after a move are lines (SVG 2, 9.3.3)
      if (command === 'M' && k === 0) {
        doc.moveTo(x, y);
        [startX, startY] = [x, y];
      } else {
        doc.lineTo(x, y);
        drawn = true;
      }
    }
  }
  return drawn;
}
