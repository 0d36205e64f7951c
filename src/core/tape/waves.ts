import { removeRunningMean, type Strip } from './strip.ts';

/**
 * How much of the light in each block of a strip, in each band of rows, is a wave of each period: `share` (0 to 1) of its
 * variance and the wave's `phase` (cycles since a crest) at the block's middle; index (block * bands + band) * periods + period.
 */
export interface Waves {
  readonly blocks: number;
  readonly bands: number;
  /** Periods looked for, samples, in equal ratios. */
  readonly periods: Float64Array;
  readonly share: Float32Array;
  readonly phase: Float32Array;
  readonly blockLength: number;
  readonly hop: number;
  readonly bandRows: number;
}

/** Ratio of neighbouring periods: a third of what a block tells apart. */
const PERIOD_RATIO = 1.035;
/** Periods in a block. */
const BLOCK_PERIODS = 8;

/** Middle of a block along the strip (samples). */
export function blockMiddle({ hop, blockLength }: Waves, block: number): number {
  return block * hop + (blockLength - 1) / 2;
}

/** Middle row of a band. */
export function bandMiddle({ bandRows }: Waves, band: number): number {
  return band * bandRows + (bandRows - 1) / 2;
}

/**
 * Waves in a strip whose period is about `period` samples, between `reach` times shorter and longer, in bands of `bandRows`
 * rows; null where the strip is shorter than a block.
 * Source: short-time Fourier transform with a Hann window (Harris 1978, Proc. IEEE 66(1)).
 */
export function measureWaves(strip: Strip, period: number, reach: number, bandRows: number): Waves | null {
  const blockLength = Math.round(BLOCK_PERIODS * period);
  const hop = Math.max(1, Math.round(blockLength / 2));
  const blocks = Math.floor((strip.length - blockLength) / hop) + 1;
  const bands = Math.floor(strip.rows / bandRows);
  if (blocks < 1 || bands < 1) return null;
  const steps = Math.ceil(Math.log(reach) / Math.log(PERIOD_RATIO));
  const periods = Float64Array.from(
    { length: 2 * steps + 1 },
    (_, j) => period * PERIOD_RATIO ** (j - steps),
  );
  const tables = Array.from(periods, (each) => makeTable(each, blockLength));
  const window = makeWindow(blockLength);
  const share = new Float32Array(blocks * bands * periods.length);
  const phase = new Float32Array(share.length);
  // a block folded about its middle: cosines see what is alike on both sides of it, sines what is opposite
  const half = blockLength >> 1;
  const alike = new Float64Array(half + 1);
  const opposite = new Float64Array(half + 1);
  for (let band = 0; band < bands; band++) {
    const signal = removeRunningMean(sumBand(strip, band * bandRows, bandRows), period);
    for (let block = 0; block < blocks; block++) {
      const start = block * hop;
      let power = 0;
      for (let i = 0; i < blockLength; i++) power += window[i]! * signal[start + i]! ** 2;
      if (power <= 0) continue;
      for (let i = 0; i < half; i++) {
        const other = signal[start + blockLength - 1 - i]!;
        alike[i] = signal[start + i]! + other;
        opposite[i] = signal[start + i]! - other;
      }
      const whole = blockLength - half;
      if (whole > half) alike[half] = signal[start + half]!;
      for (let j = 0; j < tables.length; j++) {
        const { cos, sin } = tables[j]!;
        let re = 0;
        let im = 0;
        for (let i = 0; i < half; i++) {
          re += alike[i]! * cos[i]!;
          im += opposite[i]! * sin[i]!;
        }
        if (whole > half) re += alike[half]! * cos[half]!;
        const at = (block * bands + band) * periods.length + j;
        // a Hann window sums to half its length
        share[at] = (4 * (re * re + im * im)) / (blockLength * power);
        phase[at] = Math.atan2(-im, re) / (2 * Math.PI);
      }
    }
  }
  return { blocks, bands, periods, share, phase, blockLength, hop, bandRows };
}

function makeWindow(length: number): Float64Array {
  return Float64Array.from({ length }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / length));
}

/** Windowed cosine and sine of a period about the block's middle. */
function makeTable(period: number, length: number): { cos: Float64Array; sin: Float64Array } {
  const window = makeWindow(length);
  const angle = (i: number) => (2 * Math.PI * (i - (length - 1) / 2)) / period;
  return {
    cos: window.map((weight, i) => weight * Math.cos(angle(i))),
    sin: window.map((weight, i) => weight * Math.sin(angle(i))),
  };
}

function sumBand({ length, values }: Strip, firstRow: number, count: number): Float64Array {
  const sums = new Float64Array(length);
  for (let row = firstRow; row < firstRow + count; row++)
    for (let i = 0; i < length; i++) sums[i]! += values[row * length + i]!;
  return sums;
}
