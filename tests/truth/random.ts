/** Seeded random numbers for made surveys: mulberry32 (public domain, T. Ettinger) and Box-Muller normals. */
export interface Random {
  /** Uniform in [0, 1). */
  uniform(): number;
  /** Standard normal. */
  normal(): number;
  /** Uniform in [low, high). */
  between(low: number, high: number): number;
}

/** A stream of random numbers that depends on the seed alone. */
export function seedRandom(seed: number): Random {
  let state = (Math.imul(seed | 0, 0x9e3779b1) ^ 0x6a09e667) >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal, between: (low, high) => low + (high - low) * uniform() };
}

/** How much the finder smooths along a line before it places points (px, sigma), and how far that reaches. */
const SMOOTHED_PX = 1.5;
const REACH_PX = 5;

/** Noise of spread 1, one value per px along a line, alike over some px as that of found points is. */
export function smoothNoise(count: number, random: Random): Float64Array {
  const taps = Array.from({ length: 2 * REACH_PX + 1 }, (_, i) =>
    Math.exp(-0.5 * ((i - REACH_PX) / SMOOTHED_PX) ** 2),
  );
  const size = Math.sqrt(taps.reduce((sum, tap) => sum + tap * tap, 0));
  const white = Float64Array.from({ length: count + 2 * REACH_PX }, () => random.normal());
  return Float64Array.from({ length: count }, (_, k) =>
    taps.reduce((sum, tap, i) => sum + (tap / size) * white[k + i]!, 0),
  );
}
