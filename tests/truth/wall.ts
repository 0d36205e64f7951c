import { seedRandom, type Random } from './random.ts';

export type WallKind = 'plaster' | 'brick' | 'leaning' | 'twisted' | 'bulged' | 'stepped';
export const wallKinds: readonly WallKind[] = ['plaster', 'brick', 'leaning', 'twisted', 'bulged', 'stepped'];

/** Wall offset `out` (mm) at a place on the wall (mm): the truth a survey is judged by. */
export type WallTruth = (along: number, up: number) => number;

/**
 * A made wall of the kind given, smooth but for brick joints and the step; mean distance from the laser's plane 60 mm.
 * The waves are the same in nature for every kind: lengths 0.5 to 4 m, height growing with length, about 3 mm rms.
 */
export function makeWall(seed: number, kind: WallKind, width = 3600, height = 2450): WallTruth {
  const random = seedRandom(seed * 7 + 1);
  const waves = makeWaves(random);
  const lean = kind === 'leaning' ? random.between(6, 12) : random.between(-2, 2);
  const turn = random.between(-3, 3);
  const twist = kind === 'twisted' ? random.between(8, 16) : 0;
  const bulges = kind === 'bulged' ? makeBulges(random, width, height) : [];
  const stepAt = width * random.between(0.35, 0.65);
  const stepMm = kind === 'stepped' ? random.between(6, 12) : 0;
  const relief = kind === 'brick' ? makeBricks(seed) : () => 0;
  return (along, up) => {
    const x = along / width - 0.5;
    const y = up / height - 0.5;
    let out = -60 + turn * (along / 1000) + lean * (up / 1000) + twist * 4 * x * y + relief(along, up);
    for (const w of waves) out += w.mm * Math.cos(w.perMmAlong * along + w.perMmUp * up + w.phase);
    for (const b of bulges)
      out += b.mm * Math.exp((-0.5 * ((along - b.along) ** 2 + (up - b.up) ** 2)) / b.radius ** 2);
    return along > stepAt ? out + stepMm : out;
  };
}

function makeWaves(random: Random) {
  return Array.from({ length: 24 }, () => {
    const lengthMm = 500 * 8 ** random.uniform();
    const angle = random.between(0, Math.PI);
    const k = (2 * Math.PI) / lengthMm;
    return {
      mm: 0.5 * (lengthMm / 1000) * random.normal(),
      perMmAlong: k * Math.cos(angle),
      perMmUp: k * Math.sin(angle),
      phase: random.between(0, 2 * Math.PI),
    };
  });
}

function makeBulges(random: Random, width: number, height: number) {
  return Array.from({ length: 4 }, () => ({
    mm: random.between(5, 14) * (random.uniform() < 0.5 ? -1 : 1),
    along: random.between(0, width),
    up: random.between(0, height),
    radius: random.between(200, 450),
  }));
}

/** Stretcher bond, 225 x 75 mm with 10 mm joints recessed 2.5 mm; every brick stands out by its own 1 mm. */
function makeBricks(seed: number): WallTruth {
  return (along, up) => {
    const course = Math.floor(up / 75);
    const x = along + (course % 2 === 0 ? 0 : 112.5);
    const brick = Math.floor(x / 225);
    const inJoint = up - course * 75 < 10 || x - brick * 225 < 10;
    return inJoint ? -2.5 : seedRandom(seed * 1009 + course * 131 + brick).normal();
  };
}
