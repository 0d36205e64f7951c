import { expect, test } from 'vitest';
import { renderRadiance, renderUnder } from '../../samples/make/radiance.ts';
import type { LaserColour } from '../../src/core/survey.ts';
import { measureLineCentre } from '../truth/lineCentre.ts';
import {
  CLEAN,
  greenPlaster,
  makeScene,
  noLaserBrick,
  plumbGreen,
  redBrick,
  takePhotograph,
  trueLineOf,
  type TestScene,
} from '../truth/scenes.ts';

const small = { widthPx: 640, heightPx: 320 } as const;

/** Errors of the measured line (px) in every column or row where the line falls on the wall. */
function lineErrors(test: TestScene, changes: Parameters<typeof takePhotograph>[1]): number[] {
  const picture = takePhotograph(test, changes);
  const truth = trueLineOf(test);
  return [...truth.centrePx.keys()]
    .filter((at) => truth.visible[at] === 1 && at > 10 && at < truth.centrePx.length - 10)
    .map((at) => measureLineCentre(picture, test.laser!.axis, at, truth.centrePx[at]!) - truth.centrePx[at]!);
}

const share = (errors: readonly number[], underPx: number) =>
  errors.filter((error) => Math.abs(error) < underPx).length / errors.length;
const mean = (values: readonly number[]) => values.reduce((sum, x) => sum + x, 0) / values.length;
const spread = (values: readonly number[]) => Math.sqrt(mean(values.map((x) => (x - mean(values)) ** 2)));

test.each(['level', 'plumb'] as const)('a clean %s line lies where its surface projects to', (axis) => {
  const size = axis === 'level' ? small : { widthPx: 320, heightPx: 640 };
  const errors = lineErrors(makeScene('clean', { kind: 'painted', tape: false, axis, ...size }), CLEAN);
  expect(errors.length).toBeGreaterThan(600);
  expect(share(errors, 0.05)).toBeGreaterThan(0.99);
  expect(Math.abs(mean(errors))).toBeLessThan(0.01);
});

test('the line follows the wall: a rise of the wall moves it, as much as the camera stands aside', () => {
  const test = makeScene('rise', { kind: 'painted', tape: false, ...small });
  const truth = trueLineOf(test);
  const outs = [...truth.out].filter(Number.isFinite);
  expect(Math.max(...outs) - Math.min(...outs)).toBeGreaterThan(4);
  const flat = { ...test, scene: { ...test.scene, wall: { ...test.scene.wall, outMm: () => -60 } } };
  const straight = trueLineOf(flat);
  // 1 mm out of the wall moves the line by the camera's height over its distance, down here: the camera stands above
  const { out, up } = test.camera.position;
  for (let u = 20; u < truth.centrePx.length; u += 60) {
    const bendMm = truth.out[u]! + 60;
    const perMm = ((up - test.laser!.at) / (out + 60)) * (test.camera.focalPx / (out + 60));
    expect(truth.centrePx[u]! - straight.centrePx[u]!).toBeCloseTo(bendMm * perMm, 0);
  }
});

test('speckle moves the line by about 0.3 px per column, alike over two columns', () => {
  const errors = lineErrors(
    makeScene('speckle', { kind: 'painted', tape: false, widthPx: 1200, heightPx: 480 }),
    { ...CLEAN, speckle: 0.6 },
  );
  // 0.29 to 0.33 px, correlated over two rows: what a phone's photograph of a wall gave
  expect(spread(errors)).toBeGreaterThan(0.22);
  expect(spread(errors)).toBeLessThan(0.38);
  const correlation = (lag: number) =>
    mean(errors.slice(lag).map((error, i) => error * errors[i]!)) / spread(errors) ** 2;
  expect(correlation(1)).toBeGreaterThan(0.4);
  expect(Math.abs(correlation(4))).toBeLessThan(0.25);
});

test('a strong line clips to white in its middle', () => {
  const test = makeScene('clipped', { ...small, power: 10 });
  const { rgba, widthPx } = takePhotograph(test, CLEAN);
  const truth = trueLineOf(test);
  const white = [...truth.centrePx.keys()].filter((u) => {
    const i = 4 * (Math.round(truth.centrePx[u]!) * widthPx + u);
    return truth.visible[u] === 1 && rgba[i]! > 235 && rgba[i + 1]! > 250 && rgba[i + 2]! > 235;
  });
  expect(white.length).toBeGreaterThan(widthPx / 3);
});

test('a red line is red, a green line green', () => {
  const addedLight = (colour: LaserColour, channel: number) => {
    const lit = makeScene(colour, { widthPx: 160, heightPx: 120, colour, power: 0.6 });
    const dark = { ...lit, scene: { ...lit.scene, lasers: [] } };
    const [one, other] = [takePhotograph(lit, CLEAN).rgba, takePhotograph(dark, CLEAN).rgba];
    let sum = 0;
    for (let i = channel; i < one.length; i += 4) sum += one[i]! - other[i]!;
    return sum;
  };
  expect(addedLight('red', 0)).toBeGreaterThan(2 * addedLight('red', 1));
  expect(addedLight('green', 1)).toBeGreaterThan(2 * addedLight('green', 0));
});

test('no line falls on the wall in a window', () => {
  const test = makeScene('window', { ...small, window: true });
  const truth = trueLineOf(test);
  const [window] = test.scene.wall.plan.openings;
  let inside = 0;
  for (let u = 0; u < truth.s.length; u++) {
    const s = truth.s[u]!;
    if (s < window!.along || s > window!.along + window!.width) continue;
    inside++;
    expect(truth.visible[u]).toBe(0);
  }
  expect(inside).toBeGreaterThan(50);
});

test('the same seed gives the same bytes, another seed another picture', () => {
  const take = (seed: number) => Buffer.from(takePhotograph(redBrickSmall(), { seed }).rgba);
  expect(take(3).equals(take(3))).toBe(true);
  expect(take(3).equals(take(4))).toBe(false);
});

test('ready-made scenes have a laser just where their names say so', () => {
  expect([greenPlaster(), redBrick(), plumbGreen()].every((test) => test.laser !== null)).toBe(true);
  expect(noLaserBrick().scene.lasers).toEqual([]);
  expect(() => trueLineOf(noLaserBrick())).toThrow(/expected a scene with a laser/);
});

function redBrickSmall(): TestScene {
  return makeScene('small', { kind: 'brick', colour: 'red', widthPx: 160, heightPx: 120 });
}

test('light under several sets of lasers is each set rendered by itself, to the bit', () => {
  const { scene, camera } = makeScene('sets', {
    second: true,
    window: true,
    tapeAwayMm: 20,
    widthPx: 320,
    heightPx: 240,
  });
  const look = { seed: 3, exposure: 1, speckle: 0.6, vignetting: 0.28 };
  const sets = [[], scene.lasers, scene.lasers.slice(1)];
  const alone = sets.map((lasers) => renderRadiance({ ...scene, lasers }, camera, look));
  expect(alone[1]!.green).not.toEqual(alone[0]!.green);
  expect(renderUnder(sets, scene, camera, look)).toEqual(alone);
});
