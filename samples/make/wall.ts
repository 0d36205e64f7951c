import type { Box, Opening, WallRect } from '../../src/core/survey.ts';
import { locateBrick, reliefOfBrick, type BrickSpot } from './bricks.ts';
import { makeNoise, rampBetween, type Noise } from './noise.ts';
import { hashUnit, seedRandom } from './random.ts';
import { depthInRegions, OUTSIDE_MM, type Region } from './region.ts';

export type WallKind = 'plaster' | 'brick' | 'painted';

/** A round rise (+) or hollow (-) of the wall, mm. */
export interface Swell {
  readonly along: number;
  readonly up: number;
  readonly radius: number;
  readonly height: number;
}

/** What a wall is made of; everything else follows from the seed. */
export interface WallPlan {
  readonly seed: number;
  readonly kind: WallKind;
  readonly width: number;
  readonly height: number;
  /** Mean offset from the reference plane (mm, negative). */
  readonly out: number;
  /** Offset gained per metre up and per metre along (mm). */
  readonly lean: number;
  readonly turn: number;
  readonly waves: number;
  readonly swells: readonly Swell[];
  /** Where the plaster is off and the brick bare, and where it was patched. */
  readonly bare: readonly Region[];
  readonly patched: readonly Region[];
  readonly openings: readonly Opening[];
  readonly boxes: readonly Box[];
}

/** Skim of plaster over the bricks (mm), off in the bare regions. */
const PLASTER_MM = 2;

/** A masonry wall with a known surface. */
export interface TrueWall {
  readonly plan: WallPlan;
  /** The masonry's offset from the reference plane (mm) at a place (mm): the truth a survey is judged by. */
  outMm(along: number, up: number): number;
  /** The part of it that is smooth over a hand's width, and the rest; `outMm` is their sum. */
  smoothMm(along: number, up: number): number;
  reliefMm(along: number, up: number): number;
  /** Grain too fine to move a line: it only catches the light. */
  grainMm(along: number, up: number): number;
  /** Share of bare brick (0 to 1), and how far inside a patch (mm). */
  bareness(along: number, up: number): number;
  patchMm(along: number, up: number): number;
}

/** Builds the wall of a plan. */
export function makeWall(plan: WallPlan): TrueWall {
  const { seed, kind, width, height } = plan;
  const noise = makeNoise(seed + 11);
  const waves = makeWaves(seed, plan.waves);
  const spot: BrickSpot = { course: 0, brick: 0, face: 0, insideMm: 0 };

  const smoothMm = (along: number, up: number): number => {
    let out = plan.out + (plan.lean * (up - height / 2) + plan.turn * (along - width / 2)) / 1000;
    for (const w of waves) out += w.mm * Math.cos(w.perMmAlong * along + w.perMmUp * up + w.phase);
    for (const s of plan.swells)
      out += s.height * Math.exp((-0.5 * ((along - s.along) ** 2 + (up - s.up) ** 2)) / s.radius ** 2);
    return out;
  };
  const bareness = (along: number, up: number): number => {
    if (kind !== 'plaster') return kind === 'brick' ? 1 : 0;
    return rampBetween(-4, 4, depthInRegions(plan.bare, noise, 34, along, up));
  };
  const patchMm = (along: number, up: number): number =>
    kind === 'plaster' ? depthInRegions(plan.patched, noise, 26, along, up) : OUTSIDE_MM;
  const plasterRelief = (along: number, up: number): number => {
    const trowel = 0.5 * noise(along / 95 + 40, up / 60) + 0.22 * noise(along / 30, up / 21 + 80);
    const patch = plan.patched.length > 0 ? 0.7 * rampBetween(-3, 3, patchMm(along, up)) : 0;
    return trowel + 0.05 * noise(along / 9, up / 8) + patch;
  };
  const reliefMm = (along: number, up: number): number => {
    if (kind === 'painted') return 0.15 * noise(along / 60, up / 60);
    const bare = bareness(along, up);
    if (bare === 0) return plasterRelief(along, up);
    locateBrick(noise, along, up, spot);
    const brick = reliefOfBrick(seed, noise, along, up, spot) - (kind === 'plaster' ? PLASTER_MM : 0);
    return bare === 1 ? brick : bare * brick + (1 - bare) * plasterRelief(along, up);
  };
  const grainMm = (along: number, up: number): number =>
    kind === 'painted' ? 0 : 0.14 * noise(along / 6.5, up / 6) + 0.12 * noise(along / 13 + 4, up / 5 + 90);
  return {
    plan,
    grainMm,
    smoothMm,
    reliefMm,
    outMm: (along, up) => smoothMm(along, up) + reliefMm(along, up),
    bareness,
    patchMm,
  };
}

/** A place is in a rectangle, its edge taken as inside. */
export function liesIn(rect: WallRect, along: number, up: number): boolean {
  return (
    along >= rect.along && along <= rect.along + rect.width && up >= rect.up && up <= rect.up + rect.height
  );
}

/** The noise field that a wall's relief uses, for its colours to follow the same bricks and edges. */
export function noiseOfWall(plan: WallPlan): Noise {
  return makeNoise(plan.seed + 11);
}

function makeWaves(seed: number, mm: number) {
  const random = seedRandom(seed * 13 + 5);
  return Array.from({ length: 14 }, (_, i) => {
    const lengthMm = 560 * 1.14 ** i;
    const heading = random.between(0, Math.PI);
    const k = (2 * Math.PI) / lengthMm;
    return {
      mm: ((mm * lengthMm) / 2000) * (0.4 + 0.6 * hashUnit(seed, i, 77)),
      perMmAlong: k * Math.cos(heading),
      perMmUp: k * Math.sin(heading),
      phase: random.between(0, 2 * Math.PI),
    };
  });
}
