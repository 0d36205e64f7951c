import { focusPhotograph } from '../../samples/make/photograph.ts';
import { findOffWall } from '../../src/core/line/offWall.ts';
import type { LinePoint, Wall } from '../../src/core/survey.ts';
import { findLine, findLines } from '../../src/vision/findLines.ts';
import type { Picture } from '../../src/vision/picture.ts';
import { boundLine, boundNoise, type LineBound } from './lineBound.ts';
import { photographScene, renderLayers } from './lineLayers.ts';
import { ON, trueLight, type LineLight } from './lineLight.ts';
import { setLineScene, type LineScene } from './lineScenes.ts';
import type { TestScene } from './scenes.ts';

/** How well a scene's line was found. Errors and bounds in px. */
export interface Accuracy {
  /** Share of the columns in which the line falls on the wall (or a box) that have a point. */
  readonly coverage: number;
  /** Points where no light of the line is, or more than OFF_PX from it. */
  readonly astray: number;
  /** Share of suspect points. */
  readonly suspect: number;
  readonly biasPx: number;
  /** The same for the best fit to the picture without noise: what texture and speckle happen to do in the mean. */
  readonly floorBiasPx: number;
  /** Single columns, and means of 50 of them. */
  readonly rmsPx: number;
  readonly boundPx: number;
  readonly rms50Px: number;
  readonly bound50Px: number;
  /** Spread of error / sigma. */
  readonly standardSpread: number;
  /** Length over which errors are alike (px): the sum of their correlation over all lags. */
  readonly correlationPx: number;
}

/** Further than this from the light (px) a point is not on it. */
export const OFF_PX = 3;
const MEAN_COLUMNS = 50;
/** A mean counts when so many of its columns have a found point. */
const FULL_SHARE = 0.8;
/** Columns this near to where the light ends or steps belong to both sides. */
const EDGE_PX = 3;
const MOST_LAG_PX = 20;

/** A scene photographed once or several times, with the truth about its line and what limits it. */
export interface LineShot {
  readonly test: TestScene;
  /** The same light, each with noise of its own. */
  readonly pictures: readonly Picture[];
  readonly light: LineLight;
  readonly bound: LineBound;
}

/** Without speckle only the noise scatters: this many pictures tell how much. */
const STILLS = 3;

/** A scene's photographs without and with speckle. */
export async function takeLineShots(lineScene: LineScene): Promise<[still: LineShot, speckled: LineShot]> {
  const test = setLineScene(lineScene);
  const layers = renderLayers(test);
  const light = trueLight(test);
  const noisePx = boundNoise(test, layers, light);
  const take = async (speckled: boolean): Promise<LineShot> => {
    const focused = focusPhotograph(layers.sum(speckled), test.options);
    const quiet = await photographScene(test, focused, null);
    const seeds = Array.from({ length: speckled ? 1 : STILLS }, (_, k) => test.options.seed! + 1000 * k);
    const pictures = await Promise.all(seeds.map((seed) => photographScene(test, focused, seed)));
    return { test, pictures, light, bound: boundLine(test, light, quiet, noisePx) };
  };
  return [await take(false), await take(true)];
}

/** Finds the wanted line in every picture of a shot and compares it with the truth: all pictures taken together. */
export function measureShot(shot: LineShot): Accuracy {
  const { axis, colour } = shot.test.laser!;
  const all = shot.pictures.map((picture) => {
    // only where all lines are looked for is a crossing known
    const line =
      shot.test.scene.lasers.length > 1
        ? findLines(picture).find((each) => each.axis === axis)
        : findLine(picture, { axis, colour });
    return judgeLine(shot, keepOnWall(line?.points ?? [], shot.test));
  });
  const mean = (value: (one: Accuracy) => number) =>
    all.reduce((sum, one) => sum + value(one), 0) / all.length;
  const root = (value: (one: Accuracy) => number) => Math.sqrt(mean((one) => value(one) ** 2));
  return {
    coverage: Math.min(...all.map(({ coverage }) => coverage)),
    astray: all.reduce((sum, { astray }) => sum + astray, 0),
    suspect: mean(({ suspect }) => suspect),
    biasPx: mean(({ biasPx }) => biasPx),
    floorBiasPx: mean(({ floorBiasPx }) => floorBiasPx),
    rmsPx: root(({ rmsPx }) => rmsPx),
    boundPx: root(({ boundPx }) => boundPx),
    rms50Px: root(({ rms50Px }) => rms50Px),
    bound50Px: root(({ bound50Px }) => bound50Px),
    standardSpread: root(({ standardSpread }) => standardSpread),
    correlationPx: mean(({ correlationPx }) => correlationPx),
  };
}

/** The points that a survey would keep, knowing the wall's ends and openings and the camera. */
export function keepOnWall(points: readonly LinePoint[], { scene, camera, laser }: TestScene): LinePoint[] {
  const { width, height, openings } = scene.wall.plan;
  const wall: Wall = { width, height, side: 'internal', openings, boxes: [] };
  const off = findOffWall(points, camera, { axis: laser!.axis, at: laser!.at }, wall);
  return points.filter((_, i) => !off[i]);
}

function judgeLine({ test, light, bound }: LineShot, points: readonly LinePoint[]): Accuracy {
  const { laser } = test;
  const { centrePx, on } = light;
  const onWall = (x: number) => on[x] === ON.wall || on[x] === ON.box;
  const isEdge = (x: number) => {
    for (let d = -EDGE_PX; d <= EDGE_PX; d++) if ((on[x + d] ?? on[x]) !== on[x]) return true;
    return false;
  };
  const errors = new Float64Array(on.length).fill(NaN);
  const standard: number[] = [];
  let [astray, suspect] = [0, 0];
  let seen = 0;
  for (const { u, v, sigma, state } of points) {
    const [x, across] = laser!.axis === 'level' ? [u, v] : [v, u];
    const error = across - centrePx[x]!;
    if (state === 'suspect') suspect++;
    // a column at a step may show either side's light
    const missPx = (k: number) => Math.abs(across - (centrePx[k] ?? NaN));
    if (![x - 1, x, x + 1].some((k) => missPx(k) < OFF_PX)) {
      astray++;
      continue;
    }
    if (onWall(x)) seen++;
    if (!onWall(x) || state !== 'found' || isEdge(x)) continue;
    errors[x] = error;
    standard.push(error / sigma);
  }
  const visible = [...on.keys()].filter(onWall).length;
  const used = [...on.keys()].filter((x) => Number.isFinite(errors[x]! + bound.floorPx[x]!));
  const mean = (columns: readonly number[], value: (x: number) => number): number =>
    columns.reduce((sum, x) => sum + value(x), 0) / columns.length;
  const single = Math.sqrt(mean(used, (x) => errors[x]! ** 2));
  // means over 50 columns, each window half over the last
  const windows: readonly number[][] = Array.from(
    { length: Math.ceil(on.length / (MEAN_COLUMNS / 2)) },
    (_, k) => used.filter((x) => x >= (k * MEAN_COLUMNS) / 2 && x < (k / 2 + 1) * MEAN_COLUMNS),
  ).filter((columns) => columns.length >= FULL_SHARE * MEAN_COLUMNS);
  const root = (square: (columns: readonly number[]) => number): number =>
    Math.sqrt(windows.reduce((sum, columns) => sum + square(columns), 0) / windows.length);
  return {
    coverage: seen / visible,
    astray,
    suspect: suspect / Math.max(1, points.length),
    biasPx: mean(used, (x) => errors[x]!),
    floorBiasPx: mean(used, (x) => bound.floorPx[x]!),
    rmsPx: single,
    boundPx: Math.sqrt(mean(used, (x) => bound.noisePx[x]! ** 2 + bound.floorPx[x]! ** 2)),
    rms50Px: root((columns) => mean(columns, (x) => errors[x]!) ** 2),
    bound50Px: root(
      (columns) =>
        mean(columns, (x) => bound.noisePx[x]! ** 2) / columns.length +
        mean(columns, (x) => bound.floorPx[x]!) ** 2,
    ),
    standardSpread: Math.sqrt(standard.reduce((total, value) => total + value * value, 0) / standard.length),
    correlationPx: correlationLength(errors),
  };
}

function correlationLength(errors: Float64Array): number {
  const finite = errors.filter(Number.isFinite);
  const mean = finite.reduce((total, value) => total + value, 0) / finite.length;
  const covariance = (lag: number) => {
    let [total, n] = [0, 0];
    for (let x = lag; x < errors.length; x++) {
      const product = (errors[x]! - mean) * (errors[x - lag]! - mean);
      if (Number.isFinite(product)) [total, n] = [total + product, n + 1];
    }
    return total / n;
  };
  let length = 1;
  for (let lag = 1; lag <= MOST_LAG_PX; lag++) length += (2 * covariance(lag)) / covariance(0);
  return length;
}
