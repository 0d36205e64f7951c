import type { Camera } from '../../src/core/camera/camera.ts';
import type { LaserColour, LineAxis } from '../../src/core/survey.ts';
import type { Box } from '../../src/core/survey.ts';
import type { Glare } from '../../samples/make/glare.ts';
import type { Laser } from '../../samples/make/laser.ts';
import { trueLinePoints, type LineTruth } from '../../samples/make/lineTruth.ts';
import { CLEAN, renderPhotograph, type PhotographOptions } from '../../samples/make/photograph.ts';
import type { Pipe } from '../../samples/make/pipe.ts';
import type { Scene } from '../../samples/make/scene.ts';
import { placeCamera } from '../../samples/make/stance.ts';
import type { TapeStrip } from '../../samples/make/tape.ts';
import { makeLook, type Colour } from '../../samples/make/texture.ts';
import { makeWall, type WallKind } from '../../samples/make/wall.ts';
import type { Picture } from '../../src/vision/picture.ts';

// Ready-made small scenes: part of a wall seen from about a metre, so that 1 px is about 1 mm as in a 12-megapixel
// picture of a whole wall.

export { CLEAN, renderPhotograph, trueLinePoints };
export type { LineTruth, Scene };

/** A scene with the camera that sees it and how the photograph is to be taken. */
export interface TestScene {
  readonly name: string;
  readonly scene: Scene;
  readonly camera: Camera;
  readonly options: PhotographOptions;
  /** The laser whose line is wanted; null on a wall without one. */
  readonly laser: Laser | null;
}

/** What may differ between the scenes. */
export interface SceneOptions {
  readonly kind?: WallKind;
  readonly paint?: Colour;
  readonly axis?: LineAxis;
  readonly colour?: LaserColour;
  /** Light in the middle of the line; about 0.35 is weak, 1.5 good, 8 clipped to white; 0 = no laser. */
  readonly power?: number;
  readonly widthMm?: number;
  readonly tape?: boolean;
  /** Light in the room as a share of the usual. */
  readonly lightLevel?: number;
  readonly window?: boolean;
  /** A second line of the other axis, crossing the first. */
  readonly second?: boolean;
  readonly widthPx?: number;
  readonly heightPx?: number;
  readonly seed?: number;
  readonly k1?: number;
  readonly photograph?: PhotographOptions;
  /** Where the lines cross: place along the wall and height (mm). */
  readonly alongMm?: number;
  readonly upMm?: number;
  readonly rollRad?: number;
  /** How far the tape's graduated edge lies from the line (mm). */
  readonly tapeAwayMm?: number;
  /** Share of the camera's distance from the line's sheet by which it is aimed beside the line. */
  readonly aim?: number;
  readonly boxes?: readonly Box[];
  readonly pipes?: readonly Pipe[];
  readonly glares?: readonly Glare[];
  readonly floorGloss?: number;
  readonly freeEnd?: boolean;
}

const WIDTH_MM = 3000;
const HEIGHT_MM = 2400;

/** A wall 3.0 x 2.4 m of which the middle metre or so is in the picture, and the line at 1260 up or 1500 along. */
export function makeScene(name: string, options: SceneOptions = {}): TestScene {
  const {
    kind = 'plaster',
    axis = 'level',
    colour = 'green',
    power = 1.5,
    widthMm = 2.5,
    seed = 1,
  } = options;
  const { widthPx = 1280, heightPx = 960, lightLevel = 1 } = options;
  const wall = makeWall({
    seed,
    kind,
    width: WIDTH_MM,
    height: HEIGHT_MM,
    out: -60,
    lean: 3,
    turn: -1,
    waves: 2,
    swells: [{ along: 1250, up: 1250, radius: 260, height: 7 }],
    bare: [{ along: 1800, up: 1230, radiusAlong: 190, radiusUp: 150 }],
    patched: [{ along: 1200, up: 1050, radiusAlong: 220, radiusUp: 160 }],
    openings: options.window
      ? [{ id: 'o1', kind: 'window', along: 1350, up: 1000, width: 320, height: 420 }]
      : [],
    boxes: options.boxes ?? [],
  });
  const { alongMm = 1500, upMm = 1260, tapeAwayMm = 70, aim = 0.5 } = options;
  const middle = { along: alongMm, up: upMm, out: -60 };
  const makeLaser = (which: LineAxis): Laser => ({
    axis: which,
    at: which === 'level' ? middle.up : middle.along,
    colour,
    power,
    widthMm,
    position: { along: 1450, up: 1200, out: 1900 },
  });
  const laser = power > 0 ? makeLaser(axis) : null;
  const other = axis === 'level' ? 'plumb' : 'level';
  const tape: TapeStrip =
    axis === 'level'
      ? {
          axis: 'along',
          zero: 0,
          length: 2950,
          edge: middle.up - tapeAwayMm,
          side: -1,
          width: 30,
          ground: TAPE_YELLOW,
        }
      : {
          axis: 'up',
          zero: 0,
          length: 2350,
          edge: middle.along - tapeAwayMm,
          side: -1,
          width: 30,
          ground: TAPE_YELLOW,
        };
  const scene: Scene = {
    wall,
    look: makeLook(wall, options.paint),
    light: {
      ambient: [0.3 * lightLevel, 0.29 * lightLevel, 0.28 * lightLevel],
      lamps: [
        {
          position: { along: 400, up: 2300, out: 1500 },
          colour: [1, 0.93, 0.82],
          strength: 0.6 * lightLevel,
          atMm: 2000,
        },
      ],
      sky: [2.6, 2.8, 3.1],
    },
    lasers: laser ? [laser, ...(options.second ? [makeLaser(other)] : [])] : [],
    tapes: options.tape === false ? [] : [tape],
    ...(options.pipes ? { pipes: options.pipes } : {}),
    ...(options.glares ? { glares: options.glares } : {}),
    ...(options.floorGloss ? { floorGloss: options.floorGloss } : {}),
    ...(options.freeEnd ? { freeEnd: true } : {}),
  };
  const focalPx = 0.75 * Math.max(widthPx, heightPx);
  const off = 0.94 * focalPx;
  const aside = 0.4 * off;
  const eye =
    axis === 'level'
      ? { along: middle.along + 40, up: middle.up + aside, out: off }
      : { along: middle.along + aside, up: middle.up - 30, out: off };
  const target =
    axis === 'level'
      ? { ...middle, up: middle.up + aim * aside }
      : { ...middle, along: middle.along + aim * aside };
  const camera = placeCamera(eye, target, options.rollRad ?? 0.012, {
    focalPx,
    k1: options.k1 ?? -0.006,
    widthPx,
    heightPx,
  });
  return { name, scene, camera, options: { seed, ...options.photograph }, laser };
}

/** Takes the photograph of a ready-made scene; `changes` on top of its own options (for example `CLEAN`). */
export function takePhotograph(test: TestScene, changes: PhotographOptions = {}): Picture {
  return renderPhotograph(test.scene, test.camera, { ...test.options, ...changes });
}

/** Where the wanted line of a scene truly is. */
export function trueLineOf(test: TestScene): LineTruth {
  if (!test.laser) throw new Error(`expected a scene with a laser, got ${test.name}`);
  return trueLinePoints(test.scene, test.camera, test.laser);
}

const TAPE_YELLOW: Colour = [0.72, 0.5, 0.03];
const RED_PAINT: Colour = [0.42, 0.1, 0.07];

export const greenPlaster = () => makeScene('green line on plaster');
export const greenPainted = () => makeScene('green line on paint', { kind: 'painted', tape: false });
export const redPlaster = () => makeScene('red line on plaster', { colour: 'red' });
export const redBrick = () => makeScene('red line on brick', { kind: 'brick', colour: 'red' });
export const greenBrick = () => makeScene('green line on brick', { kind: 'brick', power: 2.5 });
export const redOnRedPaint = () =>
  makeScene('red on red paint', { kind: 'painted', paint: RED_PAINT, colour: 'red' });
export const plumbGreen = () =>
  makeScene('green plumb line on plaster', { axis: 'plumb', widthPx: 960, heightPx: 1280 });
export const plumbRedBrick = () =>
  makeScene('red plumb line on brick', {
    axis: 'plumb',
    kind: 'brick',
    colour: 'red',
    widthPx: 960,
    heightPx: 1280,
  });
export const clippedCore = () => makeScene('line clipped to white', { power: 10 });
export const faint = () => makeScene('faint line', { power: 0.22 });
export const throughWindow = () => makeScene('line across a window', { window: true });
export const crossing = () => makeScene('two lines that cross', { second: true });
export const dark = () => makeScene('line in a dark room', { lightLevel: 0.12, power: 1 });
export const noLaserPlaster = () => makeScene('plaster without a laser', { power: 0 });
export const noLaserBrick = () => makeScene('brick without a laser', { kind: 'brick', power: 0 });
export const noLaserWindow = () => makeScene('window without a laser', { power: 0, window: true });
