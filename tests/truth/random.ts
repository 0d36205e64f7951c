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
