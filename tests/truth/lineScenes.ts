import { makeScene, type SceneOptions, type TestScene } from './scenes.ts';

/** A scene of the measuring step, one line of the table of accuracy. */
export interface LineScene {
  readonly name: string;
  readonly options: SceneOptions;
}

const LANDSCAPE = { widthPx: 1280, heightPx: 400, aim: 0.2 } as const;
const PORTRAIT = { widthPx: 400, heightPx: 1280, aim: 0.2, axis: 'plumb' } as const;
const SMALL = { widthPx: 640, heightPx: 480 } as const;
const RED_PAINT = [0.42, 0.1, 0.07] as const;
const GREEN_PAINT = [0.12, 0.36, 0.14] as const;

const GREY = [0.22, 0.22, 0.23] as const;

/** Every scene of the measuring step. */
export const lineScenes: readonly LineScene[] = [
  { name: 'green on paint', options: { ...LANDSCAPE, kind: 'painted', tape: false } },
  { name: 'red on paint', options: { ...LANDSCAPE, kind: 'painted', colour: 'red', seed: 2 } },
  { name: 'green on plaster', options: { ...LANDSCAPE, seed: 3 } },
  { name: 'red on plaster, portrait', options: { ...PORTRAIT, colour: 'red', seed: 4 } },
  { name: 'thin', options: { ...LANDSCAPE, kind: 'painted', widthMm: 1.2, seed: 5 } },
  { name: 'thick', options: { ...LANDSCAPE, kind: 'painted', widthMm: 7, seed: 6 } },
  { name: 'clipped to white, green', options: { ...LANDSCAPE, kind: 'painted', power: 10, seed: 7 } },
  { name: 'clipped to white, red', options: { ...LANDSCAPE, power: 10, colour: 'red', seed: 8 } },
  {
    name: 'faint in daylight',
    options: { ...LANDSCAPE, kind: 'painted', power: 0.35, lightLevel: 1.4, seed: 9 },
  },
  {
    name: 'red on red paint',
    options: { ...LANDSCAPE, kind: 'painted', paint: RED_PAINT, colour: 'red', seed: 10 },
  },
  { name: 'green on green paint', options: { ...LANDSCAPE, kind: 'painted', paint: GREEN_PAINT, seed: 11 } },
  { name: 'green on brick', options: { ...LANDSCAPE, kind: 'brick', power: 2.5, seed: 12 } },
  { name: 'red on brick, portrait', options: { ...PORTRAIT, kind: 'brick', colour: 'red', seed: 13 } },
  { name: 'yellow tape close by', options: { ...LANDSCAPE, kind: 'painted', tapeAwayMm: 11, seed: 14 } },
  {
    name: 'shiny floor',
    options: { ...LANDSCAPE, kind: 'painted', upMm: 70, aim: 0, floorGloss: 0.35, tape: false, seed: 15 },
  },
  {
    name: 'glare spot',
    options: {
      ...LANDSCAPE,
      kind: 'painted',
      glares: [{ along: 1450, up: 1275, radiusMm: 45, light: 0.4 }],
      seed: 16,
    },
  },
  {
    name: 'hand shake',
    options: { ...LANDSCAPE, kind: 'painted', photograph: { shake: { u: 4, v: 3 } }, seed: 17 },
  },
  { name: 'through a window', options: { ...LANDSCAPE, window: true, seed: 18 } },
  {
    name: 'behind a pipe',
    options: {
      ...LANDSCAPE,
      kind: 'painted',
      pipes: [{ along: 1600, out: -20, radiusMm: 16, colour: GREY }],
      seed: 19,
    },
  },
  {
    name: 'over a box 15 mm proud',
    options: {
      ...LANDSCAPE,
      kind: 'painted',
      boxes: [{ id: 'b1', kind: 'box', along: 1480, up: 1200, width: 120, height: 120, proud: 15 }],
      seed: 20,
    },
  },
  { name: 'onto the return wall', options: { ...LANDSCAPE, kind: 'painted', alongMm: 440, seed: 21 } },
  {
    name: 'past the end of the wall',
    options: { ...LANDSCAPE, kind: 'painted', alongMm: 440, freeEnd: true, seed: 22 },
  },
  {
    name: 'phone rolled 10 degrees',
    options: { ...LANDSCAPE, kind: 'painted', rollRad: Math.PI / 18, seed: 23 },
  },
  { name: 'crossed by a plumb line', options: { ...LANDSCAPE, kind: 'painted', second: true, seed: 24 } },
  { name: 'in a small picture', options: { ...SMALL, seed: 25 } },
];

/** The scene itself. */
export function setLineScene({ name, options }: LineScene): TestScene {
  return makeScene(name, options);
}
