import { findAgreeing } from './agreeing.ts';
import { nameLattice, type CountedClick } from './names.ts';
import { cyclesAt, interpolate, makeScale, periodAt, type TapeScale } from './scale.ts';
import { averageRows, middleRow, removeRunningMean, type Click, type Strip } from './strip.ts';
import {
  foldTicks,
  makeFolding,
  measureAlternation,
  waveSize,
  type Folding,
  type TickShape,
} from './tickShape.ts';
import { measureTicks } from './ticks.ts';
import { trackWave } from './track.ts';
import { countCycles, type CountedBlock } from './unwrap.ts';
import { bandMiddle, measureWaves } from './waves.ts';

/** A graduation on a strip: its place on the tape's axis (mm), along and across the strip and its sigma along it (samples). */
export interface StripGraduation {
  readonly at: number;
  readonly place: number;
  readonly row: number;
  readonly sigma: number;
}

/** What a strip says of its tape; units are samples of the strip but for mm. */
export interface StripReading {
  readonly graduations: readonly StripGraduation[];
  readonly rms: number;
  readonly agree: number;
  readonly of: number;
  readonly misnamedMm: number;
}

/** Fewer samples per graduation than this cannot be told apart. */
const LEAST_PERIOD = 2.8;
/** Rows that are averaged: graduations are longer than this on every tape (mm). */
const BAND_MM = 2;
/** How far from the clicked line a tape's graduations reach (mm), and the price of looking further. */
const NEAR_MM = 9;
const FAR_COST_PER_MM = 0.03;
/** The period is looked for so many times shorter and longer than the names say. */
const PERIOD_REACH = 1.3;
const WIDE_REACH = 2.3;
/** Share of the light that a wave takes by chance, at most, in a block of graduations. */
const LEAST_SHARE = 0.2;
/** Blocks in a row, and graduations and their share of all between the ends, that make a tape legible. */
const LEAST_BLOCKS = 4;
const LEAST_AGREE = 12;
const LEAST_AGREE_SHARE = 0.3;
/** How far beyond the graduations counted a click may lie and still be counted (graduations). */
const BEYOND_CYCLES = 30;
/** Every second graduation differs by this share of a stroke where half ones were counted, and under these pitches in any case (mm). */
const MOST_ALTERNATION = 0.52;
const FINE_PITCHES_MM: readonly number[] = [1, 5, 12.7];
/** Scatter of legible graduations, in graduations. */
const MOST_RMS_CYCLES = 0.08;

/**
 * The graduations on a strip of light that runs along a tape through clicked marks (rising in place and in name, the first and
 * last are the tape's two), `pitchMm` apart; null where they cannot be read or counted. Where the names do not fit the count,
 * `misnamedMm` is by how much the last one is too large, and no graduation is given.
 */
export function readStrip(strip: Strip, clicks: readonly Click[], pitchMm: number): StripReading | null {
  const first = clicks[0]!;
  const last = clicks.at(-1)!;
  const period = ((last.place - first.place) * pitchMm) / (last.at - first.at);
  return (
    readAtPeriod(strip, clicks, pitchMm, period, PERIOD_REACH) ??
    onlyMisnamed(readAtPeriod(strip, clicks, pitchMm, period, WIDE_REACH))
  );
}

/** Far from the spacing that the names say only a contradiction is believed. */
function onlyMisnamed(reading: StripReading | null): StripReading | null {
  return reading && reading.misnamedMm !== 0 ? reading : null;
}

function readAtPeriod(
  strip: Strip,
  clicks: readonly Click[],
  pitchMm: number,
  period: number,
  reach: number,
): StripReading | null {
  if (!(period >= LEAST_PERIOD)) return null;
  const mmPerSample = pitchMm / period;
  const bandRows = Math.max(1, Math.round(BAND_MM / mmPerSample));
  const waves = measureWaves(strip, period, reach, bandRows);
  if (!waves || waves.blocks < LEAST_BLOCKS) return null;
  const cost = Array.from({ length: waves.bands }, (_, band) => {
    const awayMm = Math.abs(bandMiddle(waves, band) - middleRow(strip)) * mmPerSample;
    return FAR_COST_PER_MM * Math.max(0, awayMm - NEAR_MM);
  });
  const counted = countCycles(trackWave(waves, cost), LEAST_SHARE);
  if (counted.length < LEAST_BLOCKS) return null;
  return measureCounted(strip, clicks, pitchMm, counted, Math.max(0.5, bandRows / 2), waves.blockLength);
}

function measureCounted(
  strip: Strip,
  clicks: readonly Click[],
  pitchMm: number,
  counted: readonly CountedBlock[],
  halfRows: number,
  blockLength: number,
): StripReading | null {
  const places = counted.map(({ block }) => block.place);
  const rows = counted.map(({ block }) => block.row);
  const scale = makeScale(
    places,
    counted.map(({ cycles }) => cycles),
  );
  const period = (places.at(-1)! - places[0]!) / (counted.at(-1)!.cycles - counted[0]!.cycles);
  const rowAt = Float64Array.from({ length: strip.length }, (_, i) => interpolate(places, rows, i));
  const lightOn = (offRows: number) => {
    const light = rowAt.map((row, i) => averageRows(strip, i, row + offRows, halfRows));
    return removeRunningMean(light, period);
  };
  const folding = foldNear(scale, places, blockLength, period);
  const { off, light, shape, alternation } = findSharpest(lightOn, folding, halfRows, pitchMm / period);
  const from = Math.max(0, places[0]! - blockLength / 2);
  const to = Math.min(strip.length - 1, places.at(-1)! + blockLength / 2);
  const first = clicks[0]!;
  const last = clicks.at(-1)!;
  const { ticks, rms } = findAgreeing(measureTicks(light, scale, shape, { from, to }));
  const of = ticks.length === 0 ? 0 : ticks.at(-1)!.number - ticks[0]!.number + 1;
  if (ticks.length < LEAST_AGREE || ticks.length < LEAST_AGREE_SHARE * of || rms > MOST_RMS_CYCLES * period)
    return null;
  const fine = makeScale(
    ticks.map(({ place }) => place),
    ticks.map(({ number }) => number),
  );
  const beyond = BEYOND_CYCLES * period;
  if (first.place < from - beyond || last.place > to + beyond) return null;
  const halved = isHalved(pitchMm, alternation);
  const named = nameLattice(
    clicks.map((click) => countClick(fine, scale, click, strip.samplePx, halved ? 2 : 1)),
    pitchMm,
  );
  // graduations that the names take for twice as many are no basis, whatever the clicks say
  if (!named || (halved && named.misnamedMm === 0)) return null;
  const { zeroMm, misnamedMm } = named;
  const graduations = ticks.map(({ number, place, sigma }) => ({
    at: zeroMm + pitchMm * number,
    place,
    row: rowAt[Math.round(place)]! + off,
    sigma,
  }));
  return { graduations: misnamedMm === 0 ? graduations : [], rms, agree: ticks.length, of, misnamedMm };
}

/**
 * Whether half graduations were counted, by every second one being another. Under graduations of half an inch, 5 and 1 mm coarser ones
 * are drawn out in any case.
 */
function isHalved(pitchMm: number, alternation: number): boolean {
  return !FINE_PITCHES_MM.includes(pitchMm) && alternation > MOST_ALTERNATION;
}

/** A click counted on the measured graduations, `each` of which make one named graduation; their period is steadier on the coarse scale. */
function countClick(
  fine: TapeScale,
  coarse: TapeScale,
  { at, place }: Click,
  samplePx: number,
  each: number,
): CountedClick {
  return { at, count: cyclesAt(fine, place) / each, periodPx: periodAt(coarse, place) * samplePx * each };
}

/** Bands half a band apart are tried so far to either side of the tracked one (mm), no more than so many. */
const ASIDE_MM = 10;
const MOST_ASIDE = 16;
/** Bands with less of a wave than this share of the strongest say nothing of every second graduation. */
const LEAST_WAVE = 0.2;

/**
 * The band beside the tracked one in which graduations are placed best: the wave is strongest where figures are printed under the
 * strokes, but strokes alone, all alike, are what can be placed.
 */
function findSharpest(
  lightOn: (offRows: number) => Float32Array,
  folding: Folding,
  halfRows: number,
  mmPerSample: number,
): { off: number; light: Float32Array; shape: TickShape; alternation: number } {
  const aside = Math.min(MOST_ASIDE, Math.ceil(ASIDE_MM / mmPerSample / halfRows));
  const bands = Array.from({ length: 2 * aside + 1 }, (_, i) => {
    const off = (i - aside) * halfRows;
    const light = lightOn(off);
    return { off, light, shape: foldTicks(light, folding) };
  });
  const best = bands.reduce((most, band) => (band.shape.sharpness > most.shape.sharpness ? band : most));
  const least = LEAST_WAVE * Math.max(...bands.map(({ shape }) => waveSize(shape)));
  const alternation = Math.max(
    ...bands
      .filter(({ shape }) => waveSize(shape) >= least)
      .map(({ light, shape }) => measureAlternation(light, folding, shape)),
  );
  return { ...best, alternation };
}

/** The samples near counted blocks, made ready for folding. */
function foldNear(scale: TapeScale, places: readonly number[], blockLength: number, period: number): Folding {
  const samples: number[] = [];
  let block = 0;
  for (let i = Math.ceil(places[0]!); i < places.at(-1)!; i++) {
    while (block + 1 < places.length && Math.abs(places[block + 1]! - i) < Math.abs(places[block]! - i))
      block++;
    if (Math.abs(places[block]! - i) <= blockLength / 4) samples.push(i);
  }
  return makeFolding(
    Int32Array.from(samples),
    samples.map((i) => cyclesAt(scale, i)),
    period,
  );
}
