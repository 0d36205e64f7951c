import type { Camera } from '../../../src/core/camera/camera.ts';
import { imageFromWall } from '../../../src/core/camera/camera.ts';
import type { LaserLine, LineAxis, Mark, Photo, Stand } from '../../../src/core/survey.ts';

/** Seeded chance: mulberry32 for uniform numbers, Box-Muller for normal ones. */
export interface Chance {
  uniform(from: number, to: number): number;
  normal(sigma: number): number;
}

export function startChance(seed: number): Chance {
  let state = seed | 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return {
    uniform: (from, to) => from + (to - from) * next(),
    normal: (sigma) => sigma * Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next()),
  };
}

export const WALL = { width: 3600, height: 2450 };

/** A camera looking from a place (mm) at a place on the wall, with a roll (rad). */
export function aimCamera(
  from: { along: number; up: number; out: number },
  at: { along: number; up: number },
  more: Partial<Camera> & { rollRad?: number } = {},
): Camera {
  const { rollRad = 0, ...rest } = more;
  const yaw = Math.atan2(at.along - from.along, from.out);
  const tilt = Math.atan2(at.up - from.up, Math.hypot(from.out, at.along - from.along));
  return {
    position: from,
    // near enough to turn and tilt one after the other
    rotationRad: [-tilt, -yaw, rollRad],
    focalPx: 2900,
    k1: -0.006,
    widthPx: 4000,
    heightPx: 3000,
    ...rest,
  };
}

/** The relief of a made wall (mm off the reference plane). */
export type Relief = (along: number, up: number) => number;
export const FLAT: Relief = () => 0;
export const UNEVEN: Relief = (along, up) =>
  -60 + 12 * Math.sin(along / 500) * Math.cos(up / 400) + along / 300;

export function isInPicture(camera: Camera, { u, v }: { u: number; v: number }, borderPx = 10): boolean {
  return u >= borderPx && v >= borderPx && u <= camera.widthPx - borderPx && v <= camera.heightPx - borderPx;
}

export function takeMarks(
  camera: Camera,
  places: readonly { along: number; up: number }[],
  { relief = FLAT, sigmaPx = 1, chance }: { relief?: Relief; sigmaPx?: number; chance?: Chance } = {},
): Mark[] {
  return places.map(({ along, up }) => {
    const { u, v } = imageFromWall(camera, { along, up, out: relief(along, up) });
    return {
      u: u + (chance?.normal(sigmaPx) ?? 0),
      v: v + (chance?.normal(sigmaPx) ?? 0),
      along,
      up,
      sigma: sigmaPx,
    };
  });
}

/** The points of a laser line on a made wall that the picture shows, every `stepMm`. */
export function takeLine(
  camera: Camera,
  axis: LineAxis,
  at: number,
  { relief = FLAT, stepMm = 20 }: { relief?: Relief; stepMm?: number } = {},
): LaserLine {
  const points: LaserLine['points'][number][] = [];
  const length = axis === 'level' ? WALL.width : WALL.height;
  for (let s = 0; s <= length; s += stepMm) {
    const [along, up] = axis === 'level' ? [s, at] : [at, s];
    const { u, v } = imageFromWall(camera, { along, up, out: relief(along, up) });
    if (isInPicture(camera, { u, v })) points.push({ u, v, sigma: 0.1, state: 'found' });
  }
  return { id: `${axis}${at}`, colour: 'green', sheet: { axis, at }, points, gaps: [] };
}

/** A stand measured right, or with a sigma of chance; `null` for what was not measured. */
export function measureStand(
  { position }: Camera,
  measured: readonly ('off' | 'up' | 'along')[],
  { sigma = 10, chance }: { sigma?: number; chance?: Chance } = {},
): Stand {
  const value = (name: 'off' | 'up' | 'along', mm: number) =>
    measured.includes(name) ? mm + (chance?.normal(sigma) ?? 0) : null;
  return {
    off: value('off', position.out),
    up: value('up', position.up),
    along: value('along', position.along),
    sigma,
  };
}

export function makePhoto(camera: Camera, parts: Partial<Photo> = {}): Photo {
  const longPx = Math.max(camera.widthPx, camera.heightPx);
  return {
    id: 'f1',
    file: 'photos/f1.jpg',
    phone: 'p1',
    stand: measureStand(camera, ['off', 'up']),
    marks: [],
    tapes: [],
    masks: [],
    lines: [],
    widthPx: camera.widthPx,
    heightPx: camera.heightPx,
    focal35Mm: (camera.focalPx / longPx) * 36,
    ...parts,
  };
}

/** The usual four marks: two tapes, one low and one high. */
export const FOUR_PLACES = [
  { along: 600, up: 500 },
  { along: 3000, up: 500 },
  { along: 700, up: 1900 },
  { along: 2900, up: 1900 },
];

/** A seeded photograph of the usual kind: any place within reach, portrait or landscape, marks spread over the picture. */
export function makeRandomView(chance: Chance, markCount: number, leastApartMm = 450) {
  for (;;) {
    const portrait = chance.uniform(0, 1) < 0.3;
    const position = {
      along: chance.uniform(-300, 3900),
      up: chance.uniform(300, 2300),
      out: chance.uniform(1500, 3500),
    };
    const camera = aimCamera(
      position,
      { along: chance.uniform(800, 2800), up: chance.uniform(700, 1700) },
      {
        rollRad: chance.uniform(-0.06, 0.06),
        focalPx: (chance.uniform(22, 30) / 36) * 4000,
        k1: chance.normal(0.01),
        widthPx: portrait ? 3000 : 4000,
        heightPx: portrait ? 4000 : 3000,
      },
    );
    if (Math.abs(camera.rotationRad[0]) > 0.3 || Math.abs(camera.rotationRad[1]) > 0.9) continue;
    const places: { along: number; up: number }[] = [];
    for (let i = 0; i < 300 && places.length < markCount; i++) {
      const place = {
        along: Math.round(chance.uniform(0, 3600)),
        up: Math.round(chance.uniform(50, 2400)),
      };
      const apart = places.every(
        (other) => Math.hypot(other.along - place.along, other.up - place.up) > leastApartMm,
      );
      if (apart && isInPicture(camera, imageFromWall(camera, { ...place, out: 0 }), 40)) places.push(place);
    }
    if (places.length === markCount) return { camera, places };
  }
}

/** The eight parameters' errors of a camera against the truth, in the order of the covariance. */
export function listErrors(got: Camera, truth: Camera): number[] {
  return [
    got.position.along - truth.position.along,
    got.position.up - truth.position.up,
    got.position.out - truth.position.out,
    ...got.rotationRad.map((value, k) => value - truth.rotationRad[k]!),
    Math.log(got.focalPx / truth.focalPx),
    got.k1 - truth.k1,
  ];
}
