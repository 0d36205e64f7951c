import { imageFromWall, type Camera } from '../../src/core/camera/camera.ts';
import type { Mark, Tape } from '../../src/core/survey.ts';
import type { Picture } from '../../src/vision/picture.ts';
import { placeCamera } from '../../samples/make/stance.ts';
import { TAPE_OFF_MM, type TapeStrip } from '../../samples/make/tape.ts';
import { makeScene, takePhotograph, type TestScene } from './scenes.ts';

/** A photographed tape with its two marks as they were named and clicked, and where its graduations truly are. */
export interface TapePhotograph {
  readonly scene: TestScene;
  readonly picture: Picture;
  readonly marks: Mark[];
  readonly tape: Tape;
  /** Image point of the graduated edge at a place on the tape's axis (mm), and the direction square to the stroke there. */
  readonly truthAt: (atMm: number) => { u: number; v: number; squareU: number; squareV: number };
}

export interface TapePhotographOptions {
  readonly pxPer10Mm: number;
  readonly seed?: number;
  readonly blurPx?: number;
  readonly axis?: 'along' | 'up';
  readonly withTape?: boolean;
  readonly power?: number;
  readonly kind?: 'plaster' | 'brick' | 'painted';
  /** Places of the two marks on the axis (mm). */
  readonly between?: readonly [number, number];
}

/** A level (or upright) tape on a made wall seen from above it (or beside it), so many px for 10 mm of it. */
export function photographTape(options: TapePhotographOptions): TapePhotograph {
  const { pxPer10Mm, seed = 3, blurPx = 0.65, axis = 'along', withTape = true } = options;
  const level = axis === 'along';
  const widthPx = level ? 1200 : 260;
  const heightPx = level ? 260 : 1200;
  const base = makeScene('tape', {
    axis: level ? 'level' : 'plumb',
    widthPx,
    heightPx,
    seed,
    tape: withTape,
    power: options.power ?? 0,
    kind: options.kind ?? 'plaster',
    tapeAwayMm: options.power ? 40 : 70,
  });
  const lengthMm = (1200 / pxPer10Mm) * 10;
  const focalPx = 900;
  const off = (focalPx / pxPer10Mm) * 10;
  const strip: TapeStrip =
    base.scene.tapes[0] ?? makeScene('tape', { axis: level ? 'level' : 'plumb' }).scene.tapes[0]!;
  const middle = level ? 1475 : 1175;
  const eye = level
    ? { along: middle + 60, up: strip.edge + 0.35 * off, out: off }
    : { along: strip.edge + 0.35 * off, up: middle - 40, out: off };
  const target = level
    ? { along: middle, up: strip.edge, out: -60 }
    : { along: strip.edge, up: middle, out: -60 };
  const camera: Camera = placeCamera(eye, target, 0.012, { focalPx, k1: -0.006, widthPx, heightPx });
  const scene: TestScene = { ...base, camera, options: { ...base.options, seed, blurPx } };
  const reach = Math.min(strip.length - 100, 0.8 * lengthMm) / 2;
  const [from, to] = options.between ?? [
    Math.round((middle - reach) / 100) * 100,
    Math.round((middle + reach) / 100) * 100,
  ];
  const place = (s: number, across: number) => {
    const [along, up] = level ? [s, strip.edge + across] : [strip.edge + across, s];
    return imageFromWall(camera, { along, up, out: scene.scene.wall.smoothMm(along, up) + TAPE_OFF_MM });
  };
  const marks = [from, to].map((s): Mark => {
    const [along, up] = level ? [s, strip.edge] : [strip.edge, s];
    return { ...place(s, 0), along, up, sigma: 1 };
  });
  const truthAt = (s: number) => {
    const edge = place(s, 0);
    const beside = place(s, 1);
    const length = Math.hypot(beside.u - edge.u, beside.v - edge.v);
    return { ...edge, squareU: (beside.v - edge.v) / length, squareV: -(beside.u - edge.u) / length };
  };
  return { scene, picture: takePhotograph(scene), marks, tape: { from: 0, to: 1, axis, pitch: 10 }, truthAt };
}
