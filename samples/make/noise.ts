import { hashUnit } from './random.ts';

/** A smooth random field over the plane, about -1 to 1, whose bumps are one unit wide. */
export type Noise = (x: number, y: number) => number;

const SIZE = 256;
const MASK = SIZE - 1;

/** Value noise on a lattice of whole numbers, repeating every 256 units; cubic fade, so its slope has no steps. */
export function makeNoise(seed: number): Noise {
  const lattice = new Float32Array(SIZE * SIZE);
  for (let j = 0; j < SIZE; j++)
    for (let i = 0; i < SIZE; i++) lattice[j * SIZE + i] = 2 * hashUnit(seed, i, j) - 1;
  return (x, y) => {
    const i = Math.floor(x);
    const j = Math.floor(y);
    let fx = x - i;
    let fy = y - j;
    fx *= fx * (3 - 2 * fx);
    fy *= fy * (3 - 2 * fy);
    const i0 = i & MASK;
    const i1 = (i + 1) & MASK;
    const j0 = (j & MASK) * SIZE;
    const j1 = ((j + 1) & MASK) * SIZE;
    const low = lattice[j0 + i0]! + fx * (lattice[j0 + i1]! - lattice[j0 + i0]!);
    const high = lattice[j1 + i0]! + fx * (lattice[j1 + i1]! - lattice[j1 + i0]!);
    return low + fy * (high - low);
  };
}

/** 0 below `low`, 1 above `high`, a cubic ramp between. */
export function rampBetween(low: number, high: number, x: number): number {
  const t = (x - low) / (high - low);
  if (t <= 0) return 0;
  if (t >= 1) return 1;
  return t * t * (3 - 2 * t);
}
