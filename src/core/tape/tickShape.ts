/**
 * How the light changes over one graduation, as the first harmonics of a wave of one cycle about the middle of the stroke:
 * light(x) = sum of re[h] cos(2 pi (h + 1) x) + im[h] sin(2 pi (h + 1) x), x in cycles from the middle.
 */
export interface TickShape {
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Cycles of the scale at the middle of a stroke, between -0.5 and 0.5. */
  readonly middle: number;
  /** Mean square of its slope (per cycle) over that of the light it does not explain: how well it can be placed. */
  readonly sharpness: number;
}

/** Samples that a harmonic's period needs to be told from noise. */
const SAMPLES_PER_HARMONIC = 2.5;
const MOST_HARMONICS = 8;
/** Places tried for the middle of the stroke in one cycle. */
const MIDDLES = 200;

/** Light at `x` cycles from the middle of the stroke. */
export function lightAt({ re, im }: Pick<TickShape, 're' | 'im'>, x: number): number {
  let sum = 0;
  for (let h = 0; h < re.length; h++) {
    const angle = 2 * Math.PI * (h + 1) * x;
    sum += re[h]! * Math.cos(angle) + im[h]! * Math.sin(angle);
  }
  return sum;
}

/** Slope of the light per cycle at `x`. */
export function slopeAt({ re, im }: Pick<TickShape, 're' | 'im'>, x: number): number {
  let sum = 0;
  for (let h = 0; h < re.length; h++) {
    const turn = 2 * Math.PI * (h + 1);
    sum += turn * (im[h]! * Math.cos(turn * x) - re[h]! * Math.sin(turn * x));
  }
  return sum;
}

/** Samples along a strip that are folded into one graduation, with the waves they are held against. */
export interface Folding {
  readonly samples: Int32Array;
  /** Per harmonic, cosine and sine of the cycles at each sample. */
  readonly cos: readonly Float64Array[];
  readonly sin: readonly Float64Array[];
  /** Cosine and sine of half the cycles. */
  readonly halfCos: Float64Array;
  readonly halfSin: Float64Array;
}

/** Makes samples ready for folding: their cycles on the scale, and how many samples one graduation has. */
export function makeFolding(samples: Int32Array, cycles: ArrayLike<number>, period: number): Folding {
  const count = Math.max(1, Math.min(MOST_HARMONICS, Math.floor(period / SAMPLES_PER_HARMONIC)));
  const wave = (trig: (x: number) => number) =>
    Array.from({ length: count }, (_, h) =>
      Float64Array.from(samples, (__, i) => trig(2 * Math.PI * (h + 1) * cycles[i]!)),
    );
  const half = (trig: (x: number) => number) =>
    Float64Array.from(samples, (_, i) => trig(Math.PI * cycles[i]!));
  return {
    samples,
    cos: wave(Math.cos),
    sin: wave(Math.sin),
    halfCos: half(Math.cos),
    halfSin: half(Math.sin),
  };
}

/**
 * The shape folded from the light at the samples: a stroke is symmetric about its middle and stands out, usually dark, from the
 * ground between.
 */
export function foldTicks(light: ArrayLike<number>, { samples, cos, sin }: Folding): TickShape {
  const n = samples.length;
  const fold = (waves: readonly Float64Array[]) =>
    Float64Array.from(waves, (wave) => holdAgainst(light, samples, wave));
  const re = fold(cos);
  const im = fold(sin);
  const middle = findMiddle(re, im);
  const turned = { re: new Float64Array(re.length), im: new Float64Array(re.length) };
  for (let h = 0; h < re.length; h++) {
    const angle = 2 * Math.PI * (h + 1) * middle;
    turned.re[h] = re[h]! * Math.cos(angle) + im[h]! * Math.sin(angle);
    turned.im[h] = im[h]! * Math.cos(angle) - re[h]! * Math.sin(angle);
  }
  let all = 0;
  for (let i = 0; i < n; i++) all += light[samples[i]!]! ** 2 / n;
  return { ...turned, middle, sharpness: judgeSharpness(turned, all) };
}

/** Mean of the light times a wave, doubled: the wave's factor in the light. */
function holdAgainst(light: ArrayLike<number>, samples: Int32Array, wave: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < samples.length; i++) sum += light[samples[i]!]! * wave[i]!;
  return (2 / samples.length) * sum;
}

/**
 * How much every second graduation differs from the others, against the wave of all: about 1 or more, less what a running mean
 * over one graduation takes of it, where what was counted are half graduations.
 */
export function measureAlternation(light: ArrayLike<number>, folding: Folding, shape: TickShape): number {
  const { samples, halfCos, halfSin } = folding;
  const half = Math.hypot(holdAgainst(light, samples, halfCos), holdAgainst(light, samples, halfSin));
  return half / waveSize(shape);
}

/** Size of the shape's first wave. */
export function waveSize({ re, im }: Pick<TickShape, 're' | 'im'>): number {
  return Math.hypot(re[0]!, im[0]!);
}

function judgeSharpness({ re, im }: Pick<TickShape, 're' | 'im'>, all: number): number {
  let slope = 0;
  let explained = 0;
  re.forEach((cosine, h) => {
    const square = (cosine * cosine + im[h]! * im[h]!) / 2;
    slope += (2 * Math.PI * (h + 1)) ** 2 * square;
    explained += square;
  });
  return slope / Math.max(1e-9, all - explained);
}

function findMiddle(re: Float64Array, im: Float64Array): number {
  let middle = 0;
  let most = -Infinity;
  const scoreOf = (place: number) => {
    let even = 0;
    let odd = 0;
    let light = 0;
    for (let h = 0; h < re.length; h++) {
      const angle = 2 * Math.PI * (h + 1) * place;
      const cosine = re[h]! * Math.cos(angle) + im[h]! * Math.sin(angle);
      const sine = im[h]! * Math.cos(angle) - re[h]! * Math.sin(angle);
      even += cosine * cosine;
      odd += sine * sine;
      light += cosine;
    }
    // strokes are darker than their ground on nearly every tape: light ones must stand out half as much again
    return ((even - odd) / (even + odd || 1)) * (light < 0 ? -light : light / 1.5);
  };
  for (let i = 0; i < MIDDLES; i++) {
    const place = i / MIDDLES - 0.5;
    const score = scoreOf(place);
    if (score <= most) continue;
    most = score;
    middle = place;
  }
  const step = 1 / MIDDLES;
  const [before, here, after] = [scoreOf(middle - step), scoreOf(middle), scoreOf(middle + step)];
  const bend = before - 2 * here + after;
  return bend < 0 ? middle + (step * 0.5 * (before - after)) / bend : middle;
}
