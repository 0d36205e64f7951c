import { cyclesAt, periodAt, placeAt, type TapeScale } from './scale.ts';
import { ThreeTermFit } from './threeTerms.ts';
import { lightAt, slopeAt, type TickShape } from './tickShape.ts';

/** One graduation as measured: its number, place and sigma along the strip (samples), contrast against the mean one. */
export interface MeasuredTick {
  readonly number: number;
  readonly place: number;
  readonly sigma: number;
  readonly contrast: number;
  /** Root mean square of the light about the fitted shape. */
  readonly missLight: number;
}

/** Half of the window about a graduation: this share of a cycle, but no fewer samples than this. */
const WINDOW_CYCLES = 0.45;
const LEAST_HALF_SAMPLES = 3.2;
const TURNS = 2;
const LEAST_CONTRAST = 0.1;
/** A graduation is looked for so near to where the scale has it (cycles). */
const MOST_OFF_CYCLES = 0.22;

/**
 * Graduations of a scale between two places (samples), measured one by one: ground, contrast and place
 * of the shape fitted to the light around it. One whose light does not hold the shape at all is left out; `sigma` is for light
 * with a noise of 1.
 * Source: least squares in the shape's linear expansion, Gauss-Newton.
 */
export function measureTicks(
  light: ArrayLike<number>,
  scale: TapeScale,
  shape: TickShape,
  { from, to }: { readonly from: number; readonly to: number },
): MeasuredTick[] {
  const first = Math.ceil(cyclesAt(scale, from) - shape.middle);
  const last = Math.floor(cyclesAt(scale, to) - shape.middle);
  const fits: MeasuredTick[] = [];
  for (let number = first; number <= last; number++) {
    const fit = fitTick(light, scale, shape, number);
    if (fit) fits.push(fit);
  }
  return fits;
}

function fitTick(
  light: ArrayLike<number>,
  scale: TapeScale,
  shape: TickShape,
  number: number,
): MeasuredTick | null {
  const expected = placeAt(scale, number + shape.middle);
  const period = periodAt(scale, expected);
  if (!(period > 1)) return null;
  const half = Math.max(WINDOW_CYCLES * period, LEAST_HALF_SAMPLES);
  let off = 0;
  for (let turn = 0; turn < TURNS; turn++) {
    const middle = expected + off;
    const from = Math.ceil(middle - half);
    const count = Math.floor(middle + half) - from + 1;
    if (from < 0 || from + count > light.length || count < 5) return null;
    const fit = new ThreeTermFit();
    for (let i = from; i < from + count; i++) {
      const x = (i - middle) / period;
      fit.add(1, lightAt(shape, x), -slopeAt(shape, x) / period, light[i]!);
    }
    const solved = fit.solve();
    const contrast = solved?.values[1] ?? 0;
    if (!solved || !(contrast > LEAST_CONTRAST)) return null;
    off += solved.values[2] / contrast;
    if (!(Math.abs(off) < MOST_OFF_CYCLES * period)) return null;
    if (turn === TURNS - 1)
      return {
        number,
        place: expected + off,
        sigma: Math.sqrt(solved.variances[2]) / contrast,
        contrast,
        missLight: Math.sqrt(solved.squareSum / (count - 3)),
      };
  }
  return null;
}
