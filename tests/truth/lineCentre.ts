import type { LineAxis } from '../../src/core/survey.ts';
import type { Picture } from '../../src/vision/picture.ts';

/** sRGB byte -> linear light (IEC 61966-2-1, from memory). */
function linearFromByte(byte: number): number {
  const x = byte / 255;
  return x <= 0.04045 ? x / 12.92 : ((x + 0.055) / 1.055) ** 2.4;
}

const LINEAR = Float64Array.from({ length: 256 }, (_, byte) => linearFromByte(byte));

/** Width of the window that weighs the light (px, sigma), and how far out the surroundings are read. */
const WINDOW_PX = 2;
const AROUND_PX = 9;

/**
 * Where a line lies across the picture (px) in one column (level) or row (plumb): the middle that a Gaussian window must
 * have for the light over its surroundings to balance in it, starting at a place already known; NaN where nothing stands
 * out. Simple on purpose: the measure by which the renderer itself is judged.
 */
export function measureLineCentre(picture: Picture, axis: LineAxis, at: number, nearPx: number): number {
  const light = (across: number) => {
    const i = 4 * (axis === 'level' ? across * picture.widthPx + at : at * picture.widthPx + across);
    return (
      0.25 * LINEAR[picture.rgba[i]!]! +
      0.5 * LINEAR[picture.rgba[i + 1]!]! +
      0.25 * LINEAR[picture.rgba[i + 2]!]!
    );
  };
  const middle = Math.round(nearPx);
  const mean = (from: number) => [0, 1, 2, 3].reduce((sum, k) => sum + light(from + k), 0) / 4;
  const low = mean(middle - AROUND_PX - 3);
  const high = mean(middle + AROUND_PX);
  let centre = nearPx;
  for (let turn = 0; turn < 40; turn++) {
    let sum = 0;
    let moment = 0;
    for (let x = middle - AROUND_PX; x <= middle + AROUND_PX; x++) {
      const ground = low + ((high - low) * (x - middle + AROUND_PX + 1.5)) / (2 * AROUND_PX + 3);
      const over = Math.exp(-0.5 * ((x - centre) / WINDOW_PX) ** 2) * (light(x) - ground);
      sum += over;
      moment += over * (x - centre);
    }
    if (!(sum > 0.02)) return NaN;
    const step = moment / sum;
    centre += Math.max(-0.5, Math.min(0.5, 1.5 * step));
    if (Math.abs(centre - nearPx) > 4) return NaN;
    if (Math.abs(step) < 1e-4) break;
  }
  return centre;
}
