import type { ImagePoint } from '../camera/frames.ts';
import { makeScale } from './scale.ts';
import { cutStrip, type GreyCrop } from './snapCrop.ts';
import { averageRows, removeRunningMean, type Strip } from './strip.ts';
import { foldTicks, makeFolding, measureAlternation, waveSize, type TickShape } from './tickShape.ts';
import { measureTicks, type MeasuredTick } from './ticks.ts';
import { bandMiddle, measureWaves, type Waves } from './waves.ts';

/** The graduation that a press means: its image point, sigma along the tape and the spacing of graduations there (px). */
export interface Snap extends ImagePoint {
  readonly sigmaPx: number;
  readonly spacingPx: number;
}

/** Spacings looked for (px), each from that many times shorter to longer. */
const SPACINGS_PX = [5.5, 8, 11.5, 16.5, 24] as const;
const SPACING_REACH = 1.22;
/** Graduations in the strip about the press; so many of them must be seen alike. */
const STRIP_CYCLES = 8;
/** Strokes are looked for so far to either side of the press (px), in bands of so many rows. */
const ASIDE_PX = 14;
const BAND_ROWS = 2;
/** Bands that are looked at closely, those with most of a wave. */
const MOST_BANDS = 4;
/** Share of the light in a band that the wave of the graduations takes: on bare wall it stays below. */
const LEAST_SHARE = 0.4;
/** A stroke is longer than a band: its wave has this share in the band beside, at nearly the same place (cycles). */
const LEAST_SHARE_BESIDE = 0.25;
const MOST_TURNED_CYCLES = 0.12;
/** Every second stroke may differ from the others by this share of a stroke; else half graduations were taken. */
const MOST_ALTERNATION = 0.55;
const LEAST_TICKS = 6;
/** A stroke is darker than its ground by this share of it (half the wave), the strokes are alike, and little light is left over. */
const LEAST_DARKNESS = 0.035;
const CONTRASTS = { least: 0.4, most: 2 };
const MOST_MISS = 0.65;
/** Scatter of the strokes about equal spacing, and the press's distance from its stroke (graduations). */
const MOST_RMS_CYCLES = 0.05;
const MOST_OFF_CYCLES = 0.42;

/** What slanting strokes and figures under them leave in common to the strokes of a tape (px): measured on made tapes. */
const SHARED_SIGMA_PX = 0.35;

/** Half the side (px) of the piece of the picture that a snap looks at. */
export const SNAP_REACH_PX =
  Math.ceil((STRIP_CYCLES / 2) * SPACINGS_PX.at(-1)! * SPACING_REACH) + ASIDE_PX + 4;

/**
 * The graduation of a tape nearest to a press along it: strokes at equal spacing, looked for along `direction` (the tape's in the
 * picture; null = level and upright are both tried). The spacing need not be known. The point keeps the press's distance from the
 * tape's edge. Null where no strokes are seen. What a coarser stroke is named cannot be seen here: the nearest one is taken.
 */
export function snapToGraduation(
  crop: GreyCrop,
  press: ImagePoint,
  direction: ImagePoint | null,
): Snap | null {
  const directions = direction
    ? [direction]
    : [
        { u: 1, v: 0 },
        { u: 0, v: 1 },
      ];
  const seen = directions.flatMap((along) =>
    SPACINGS_PX.flatMap((spacing) => {
      const rhythm = findRhythm(crop, press, along, spacing);
      return rhythm ? [{ rhythm, along }] : [];
    }),
  );
  // what is meant is a stroke that stands out: a finer one only where no coarser one is near
  seen.sort((one, other) => other.rhythm.period - one.rhythm.period);
  for (const { along, rhythm } of seen) {
    const { period, middle, ticks } = rhythm;
    const tick = ticks.reduce((near, each) =>
      Math.abs(each.place - middle) < Math.abs(near.place - middle) ? each : near,
    );
    const off = tick.place - middle;
    if (Math.abs(off) > MOST_OFF_CYCLES * period) continue;
    return {
      u: press.u + off * along.u,
      v: press.v + off * along.v,
      sigmaPx: Math.hypot(rhythm.rmsPx, SHARED_SIGMA_PX),
      spacingPx: period,
    };
  }
  return null;
}

/** Strokes at equal spacing seen in a strip through the press. */
interface Rhythm {
  readonly ticks: readonly MeasuredTick[];
  readonly period: number;
  /** Sample at which the press lies. */
  readonly middle: number;
  readonly rmsPx: number;
  /** How well the strokes can be placed: strokes alone stand out from strokes with figures under them. */
  readonly sharpness: number;
}

function findRhythm(crop: GreyCrop, press: ImagePoint, along: ImagePoint, spacing: number): Rhythm | null {
  const length = 2 * Math.ceil((STRIP_CYCLES * spacing) / 2) + 1;
  const strip = cutStrip(crop, press, along, length, 2 * ASIDE_PX + 1);
  const waves = strip && measureWaves(strip, spacing, SPACING_REACH, BAND_ROWS);
  if (!strip || !waves) return null;
  return listBands(waves)
    .slice(0, MOST_BANDS)
    .map(({ row, period }) => measureRhythm(strip, row, period))
    .reduce((best, each) => (each && each.sharpness > (best?.sharpness ?? 0) ? each : best), null);
}

/** Bands in which a wave takes most of the light and goes on, in step, in the band beside; most of it first. */
function listBands(
  waves: Waves,
): { readonly row: number; readonly period: number; readonly share: number }[] {
  const { bands, periods, share, phase } = waves;
  const found = [];
  for (let band = 0; band < bands; band++) {
    const from = band * periods.length;
    let most = from;
    for (let j = from; j < from + periods.length; j++) if (share[j]! > share[most]!) most = j;
    if (share[most]! < LEAST_SHARE) continue;
    const goesOn = [band - 1, band + 1].some((other) => {
      const beside = (other - band) * periods.length + most;
      if (other < 0 || other >= bands || share[beside]! < LEAST_SHARE_BESIDE) return false;
      const turned = phase[beside]! - phase[most]!;
      return Math.abs(turned - Math.round(turned)) < MOST_TURNED_CYCLES;
    });
    if (goesOn)
      found.push({ row: bandMiddle(waves, band), period: periods[most - from]!, share: share[most]! });
  }
  return found.sort((one, other) => other.share - one.share);
}

function measureRhythm(strip: Strip, row: number, guess: number): Rhythm | null {
  const middle = (strip.length - 1) / 2;
  const light = removeRunningMean(
    Float32Array.from({ length: strip.length }, (_, i) => averageRows(strip, i, row, BAND_ROWS / 2)),
    guess,
  );
  let period = guess;
  let ticks: readonly MeasuredTick[] = [];
  let shape: TickShape | null = null;
  // the first turn knows the spacing to some per cent only
  for (let turn = 0; turn < 2; turn++) {
    const cycles = (place: number) => (place - middle) / period;
    const reach = Math.min(middle - 1, (STRIP_CYCLES / 2) * period);
    const samples = Int32Array.from(
      { length: 2 * Math.floor(reach) + 1 },
      (_, i) => middle - Math.floor(reach) + i,
    );
    const folding = makeFolding(samples, Float64Array.from(samples, cycles), period);
    shape = foldTicks(light, folding);
    if (measureAlternation(light, folding, shape) > MOST_ALTERNATION) return null;
    const ends = [0, middle, strip.length - 1];
    ticks = measureTicks(light, makeScale(ends, ends.map(cycles)), shape, { from: 1, to: strip.length - 2 });
    if (ticks.length < LEAST_TICKS) return null;
    period = fitSpacing(ticks).period;
  }
  const { rmsPx } = fitSpacing(ticks);
  if (rmsPx > MOST_RMS_CYCLES * period) return null;
  const wave = waveSize(shape!);
  const ground = strip.values.reduce((sum, each) => sum + each, 0) / strip.values.length;
  const clear = ticks.filter(
    ({ contrast, missLight }) =>
      contrast > CONTRASTS.least && contrast < CONTRASTS.most && missLight < MOST_MISS * wave,
  );
  if (shape!.re[0]! > 0 || wave < LEAST_DARKNESS * ground || clear.length < LEAST_TICKS) return null;
  return { ticks, period, middle, rmsPx, sharpness: shape!.sharpness };
}

/** Equal spacing of the strokes by least squares, and their scatter about it (samples). */
function fitSpacing(ticks: readonly MeasuredTick[]): { period: number; rmsPx: number } {
  const n = ticks.length;
  const meanNumber = ticks.reduce((sum, { number }) => sum + number, 0) / n;
  const meanPlace = ticks.reduce((sum, { place }) => sum + place, 0) / n;
  let numbers = 0;
  let both = 0;
  for (const { number, place } of ticks) {
    numbers += (number - meanNumber) ** 2;
    both += (number - meanNumber) * (place - meanPlace);
  }
  const period = both / numbers;
  const squares = ticks.reduce(
    (sum, { number, place }) => sum + (place - meanPlace - period * (number - meanNumber)) ** 2,
    0,
  );
  return { period, rmsPx: Math.sqrt(squares / Math.max(1, n - 2)) };
}
