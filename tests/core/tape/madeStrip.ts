import type { Click, Strip } from '../../../src/core/tape/strip.ts';
import { seedRandom } from '../../truth/random.ts';

/** A made strip of light with what it shows: strokes at whole pitches, longer ones where the tape's own print has them. */
export interface MadeStripOptions {
  readonly pitchMm: number;
  /** Samples per graduation at the strip's left and right end. */
  readonly periods: readonly [number, number];
  readonly count?: number;
  readonly noise?: number;
  readonly seed?: number;
  /** Graduations from..to that something lies on. */
  readonly hidden?: readonly [number, number];
  /** What relief adds (samples) at a share of the strip. */
  readonly shift?: (share: number) => number;
  /** Finer strokes between, shorter: so many to a graduation. */
  readonly finer?: number;
}

const ROWS = 25;
const STROKE_SAMPLES = 0.9;
const FIGURE_SAMPLES = 2;

/** The strip, the true place of every graduation (its number counted from 0), and clicks on the first and last but two. */
export function makeStrip(options: MadeStripOptions): { strip: Strip; places: number[]; clicks: Click[] } {
  const { pitchMm, periods, count = 120, noise = 2, seed = 5, hidden, shift = () => 0, finer = 1 } = options;
  const random = seedRandom(seed);
  // a projective map: the period falls with the square of the denominator
  const [first, last] = periods;
  const fall = Math.sqrt(first / last) - 1;
  const at = (number: number) => {
    const share = number / count;
    return 12 + (first * number) / (1 + fall * share) + shift(share);
  };
  const places = Array.from({ length: count + 1 }, (_, number) => at(number));
  const length = Math.ceil(places.at(-1)!) + 12;
  const values = new Float32Array(ROWS * length).fill(150);
  const edge = 8;
  for (let row = edge; row < ROWS; row++)
    for (let number = 0; number <= count * finer; number++) {
      const whole = number % finer === 0;
      // below the long strokes a figure stands under each
      const figure = row - edge > 9;
      if (!whole && row - edge > 4) continue;
      const middle = at(number / finer);
      for (let i = Math.floor(middle - 4); i <= middle + 4; i++)
        if (i >= 0 && i < length)
          values[row * length + i]! -=
            90 * Math.exp(-0.5 * ((i - middle) / (figure ? FIGURE_SAMPLES : STROKE_SAMPLES)) ** 2);
    }
  if (hidden)
    for (let row = 0; row < ROWS; row++)
      for (let i = Math.round(at(hidden[0])); i < at(hidden[1]); i++) values[row * length + i] = 120;
  for (let i = 0; i < values.length; i++) values[i]! += noise * random.normal();
  const clicks = [2, count - 2].map((number) => ({ at: 1000 + number * pitchMm, place: places[number]! }));
  return { strip: { length, rows: ROWS, values, samplePx: 1 }, places, clicks };
}
