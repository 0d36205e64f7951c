import type { Camera } from '../../src/core/camera/camera.ts';
import type { WallPoint } from '../../src/core/camera/frames.ts';
import type { LineAxis } from '../../src/core/survey.ts';
import type { Laser } from './laser.ts';
import type { RoomLight } from './light.ts';
import { seedRandom } from './random.ts';
import type { Scene } from './scene.ts';
import { placeCamera } from './stance.ts';
import type { TapeStrip } from './tape.ts';
import { makeLook, type Colour } from './texture.ts';
import { makeWall, type WallPlan } from './wall.ts';

// A scenario of our own: an old dairy, being made into a workshop, whose north wall is to be lined.

export const SEED = 41;

const plan: WallPlan = {
  seed: SEED,
  kind: 'plaster',
  width: 3600,
  height: 2450,
  out: -63,
  lean: 4.2,
  turn: -1.2,
  waves: 3.2,
  swells: [
    { along: 950, up: 1850, radius: 370, height: 12 },
    { along: 2880, up: 620, radius: 340, height: 11 },
    { along: 620, up: 620, radius: 380, height: -11 },
    { along: 2750, up: 1700, radius: 430, height: -12 },
  ],
  bare: [
    { along: 560, up: 1360, radiusAlong: 190, radiusUp: 130 },
    { along: 760, up: 1250, radiusAlong: 150, radiusUp: 100 },
    { along: 2430, up: 2190, radiusAlong: 230, radiusUp: 120 },
    { along: 2650, up: 2100, radiusAlong: 170, radiusUp: 90 },
    { along: 2270, up: 190, radiusAlong: 190, radiusUp: 130 },
    { along: 2370, up: 320, radiusAlong: 100, radiusUp: 120 },
    { along: 1130, up: 560, radiusAlong: 150, radiusUp: 80 },
  ],
  patched: [
    { along: 2790, up: 330, radiusAlong: 190, radiusUp: 260 },
    { along: 2740, up: 120, radiusAlong: 150, radiusUp: 190 },
    { along: 1390, up: 1450, radiusAlong: 190, radiusUp: 640 },
    { along: 2290, up: 1400, radiusAlong: 160, radiusUp: 690 },
    { along: 1850, up: 2090, radiusAlong: 560, radiusUp: 130 },
    { along: 230, up: 2180, radiusAlong: 270, radiusUp: 150 },
  ],
  openings: [{ id: 'o1', kind: 'window', along: 1500, up: 900, width: 700, height: 1100 }],
  boxes: [{ id: 'b1', kind: 'socket', along: 2750, up: 300, width: 80, height: 80, proud: 0 }],
};

const wall = makeWall(plan);
const look = makeLook(wall);
const YELLOW: Colour = [0.74, 0.5, 0.035];
const MASKING: Colour = [0.56, 0.5, 0.36];
const IVORY: Colour = [0.66, 0.6, 0.44];

const light: RoomLight = {
  ambient: [0.3, 0.31, 0.32],
  lamps: [
    { position: { along: 250, up: 1950, out: 2200 }, colour: [1, 0.9, 0.76], strength: 0.62, atMm: 2300 },
    { position: { along: 3300, up: 2000, out: 4200 }, colour: [0.9, 0.97, 1.05], strength: 0.26, atMm: 3500 },
  ],
  sky: [2.7, 2.95, 3.2],
};

/** The picture of a phone: 4000 x 3000, its EXIF focal length a whole number that is 1.7 % too small. */
export const FOCAL_35_MM = 26;
const LONG_PX = 4000;
const SHORT_PX = 3000;
const FOCAL_PX = (FOCAL_35_MM / 36) * LONG_PX * 1.017;
export const K1 = -0.0062;

/** One photograph of the sample, before it is taken. */
export interface Shot {
  readonly id: string;
  readonly line: string;
  readonly laser: Laser;
  readonly scene: Scene;
  readonly camera: Camera;
  readonly seed: number;
  readonly exposure: number;
  /** The tape beside the line and the short rule, and where each was read (mm from its own zero). */
  readonly tape: TapeStrip;
  readonly rule: TapeStrip;
  readonly tapeReadings: readonly number[];
  readonly ruleReadings: readonly number[];
  /** Corners of the window that were clicked too, along and up (mm). */
  readonly corners: readonly (readonly [number, number])[];
}

interface ShotPlan {
  readonly axis: LineAxis;
  readonly at: number;
  /** Height (level) or place along (plumb) of the camera, and of the tape's edge and the rule's zero and edge. */
  readonly eye: number;
  readonly tapeEdge: number;
  readonly ruleZero: number;
  readonly ruleEdge: number;
  readonly power: number;
}

const shotPlans: readonly ShotPlan[] = [
  { axis: 'level', at: 200, eye: 1390, tapeEdge: 135, ruleZero: 900, ruleEdge: 3050, power: 3.2 },
  { axis: 'level', at: 750, eye: 1850, tapeEdge: 690, ruleZero: 1000, ruleEdge: 1130, power: 4.5 },
  { axis: 'level', at: 1250, eye: 2290, tapeEdge: 1175, ruleZero: 130, ruleEdge: 2420, power: 3.6 },
  { axis: 'level', at: 1750, eye: 610, tapeEdge: 1705, ruleZero: 0, ruleEdge: 1180, power: 3.6 },
  { axis: 'level', at: 2250, eye: 1090, tapeEdge: 2160, ruleZero: 200, ruleEdge: 2560, power: 2.6 },
  { axis: 'plumb', at: 350, eye: 1490, tapeEdge: 430, ruleZero: 520, ruleEdge: 1620, power: 3.4 },
  { axis: 'plumb', at: 1400, eye: 2540, tapeEdge: 1310, ruleZero: 2100, ruleEdge: 700, power: 4 },
  { axis: 'plumb', at: 3100, eye: 1960, tapeEdge: 3015, ruleZero: 1850, ruleEdge: 760, power: 3.2 },
];

/** Bits of masking tape across a tape, near its ends. */
function holdDown(strip: TapeStrip): TapeStrip[] {
  return [50, strip.length - 30].map((s, i) => ({
    axis: strip.axis === 'along' ? 'up' : 'along',
    zero: strip.edge + (strip.side > 0 ? -24 - 5 * i : -strip.width - 22),
    length: strip.width + 48,
    edge: strip.zero + s,
    side: 1,
    width: 25,
    ground: MASKING,
    blank: true,
  }));
}

/** The sample's photographs, ready to be taken. */
export function listShots(): Shot[] {
  return shotPlans.map((shot, index) => makeShot(shot, index));
}

/** The dairy's wall, with its true surface. */
export const dairyWall = wall;

function makeShot(shot: ShotPlan, index: number): Shot {
  const random = seedRandom(SEED * 100 + index);
  const level = shot.axis === 'level';
  const about = (value: number, spread: number) => value + spread * (2 * random.uniform() - 1);
  const laser: Laser = {
    axis: shot.axis,
    at: shot.at,
    colour: 'green',
    power: shot.power,
    widthMm: about(2.5, 0.3),
    position: level
      ? { along: about(1850, 300), up: shot.at, out: about(1700, 200) }
      : { along: shot.at, up: about(420, 100), out: about(1500, 200) },
  };
  const tape: TapeStrip = {
    axis: level ? 'along' : 'up',
    zero: 0,
    length: level ? 3540 : 2400,
    edge: shot.tapeEdge,
    side: level || shot.tapeEdge < shot.at ? -1 : 1,
    width: 30,
    ground: YELLOW,
  };
  const rule: TapeStrip = {
    axis: level ? 'up' : 'along',
    zero: shot.ruleZero,
    length: 1000,
    edge: shot.ruleEdge,
    side: level ? 1 : -1,
    width: 30,
    ground: IVORY,
  };
  const eye: WallPoint = level
    ? { along: about(1800, 60), up: about(shot.eye, 25), out: about(2780, 40) }
    : { along: about(shot.eye, 25), up: about(1330, 60), out: about(2560, 50) };
  const target: WallPoint = level
    ? {
        along: about(1800, 25),
        up: eye.up + 0.25 * (shot.at + plan.height / 2 - 2 * eye.up) + about(0, 30),
        out: plan.out,
      }
    : { along: eye.along + 0.4 * (shot.at - eye.along), up: about(1230, 40), out: plan.out };
  const optics = {
    focalPx: FOCAL_PX,
    k1: K1,
    widthPx: level ? LONG_PX : SHORT_PX,
    heightPx: level ? SHORT_PX : LONG_PX,
  };
  return {
    id: `f${index + 1}`,
    line: `l${index + 1}`,
    laser,
    scene: { wall, look, light, lasers: [laser], tapes: [tape, rule, ...holdDown(tape), ...holdDown(rule)] },
    camera: placeCamera(eye, target, about(0, 0.016), optics),
    seed: SEED * 1000 + index,
    exposure: about(1.12, 0.07),
    tape,
    rule,
    tapeReadings: level ? [100, 1200, 2400, 3500] : [100, 850, 1600, 2350],
    ruleReadings: [100, 900],
    corners: [
      [1500, 2000],
      [2200, 900],
    ],
  };
}
