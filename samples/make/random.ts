/** Seeded random numbers: the same seed gives the same stream, in Node and in any browser. */
export interface Random {
  /** Uniform in [0, 1). */
  uniform(): number;
  /** Uniform in [low, high). */
  between(low: number, high: number): number;
  /** Standard normal. */
  normal(): number;
}

/**
 * Avalanche of three whole numbers to one in [0, 1), the same for the same arguments.
 * Source: the finaliser of MurmurHash3 (public domain; from memory).
 */
export function hashUnit(seed: number, i: number, j: number): number {
  let h =
    Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b) ^ Math.imul(i | 0, 0xc2b2ae35) ^ Math.imul(j | 0, 0x27d4eb2f);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return ((h ^ (h >>> 16)) >>> 0) / 4294967296;
}

/** A stream of random numbers that depends on the seed alone. */
export function seedRandom(seed: number): Random {
  let count = 0;
  const uniform = () => {
    count++;
    return hashUnit(seed, count, 0x51ed);
  };
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal, between: (low, high) => low + (high - low) * uniform() };
}

/** `count` standard normals of one stream. */
export function fillNormals(seed: number, count: number): Float32Array {
  const random = seedRandom(seed);
  const normals = new Float32Array(count);
  for (let i = 0; i + 1 < count; i += 2) {
    // both values of Box and Muller's transform
    const radius = Math.sqrt(-2 * Math.log(1 - random.uniform()));
    const turn = 2 * Math.PI * random.uniform();
    normals[i] = radius * Math.cos(turn);
    normals[i + 1] = radius * Math.sin(turn);
  }
  return normals;
}
