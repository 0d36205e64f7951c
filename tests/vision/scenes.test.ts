import { describe, expect, test } from 'vitest';
import { FOUND_CORRELATED_PX } from '../../src/core/line/correlation.ts';
import type { LinePoint } from '../../src/core/survey.ts';
import { findLine, findLines } from '../../src/vision/findLines.ts';
import { measureShot, takeLineShots, type LineShot } from '../truth/lineAccuracy.ts';
import { ON } from '../truth/lineLight.ts';
import { lineScenes } from '../truth/lineScenes.ts';
import { makeScene, takePhotograph } from '../truth/scenes.ts';
import { drawPicture } from './drawn.ts';

const correlations: number[] = [];

const GREEN = { axis: 'level', colour: 'green' } as const;

/** A scene's photographs without and with speckle, taken once. */
const taken = new Map<string, Promise<[LineShot, LineShot]>>();
const takeShots = (name: string): Promise<[LineShot, LineShot]> => {
  const shots = taken.get(name) ?? takeLineShots(lineScenes.find((scene) => scene.name === name)!);
  taken.set(name, shots);
  return shots;
};

// Bounds: tests/truth/lineBound.ts. Means of 50 columns within 1.3 of them; much better than a bound is a failure of it.
describe.each(lineScenes)('$name', (scene) => {
  test('is found within 1.3 of what noise and speckle allow, and says how well', async () => {
    for (const [speckled, shot] of (await takeShots(scene.name)).entries()) {
      const found = measureShot(shot);
      correlations.push(found.correlationPx);
      expect(found.coverage).toBeGreaterThan(0.97);
      expect(found.astray).toBe(0);
      expect(found.suspect).toBeLessThan(0.06);
      // speckle has a mean of its own in one picture
      expect(Math.abs(found.biasPx - (speckled ? found.floorBiasPx : 0))).toBeLessThan(0.03);
      expect(found.rms50Px / found.bound50Px).toBeGreaterThan(0.6);
      expect(found.rms50Px / found.bound50Px).toBeLessThan(1.3);
      // light smoothing along the line makes single columns better than the bound of one
      expect(found.rmsPx / found.boundPx).toBeGreaterThan(0.35);
      expect(found.rmsPx / found.boundPx).toBeLessThan(1.1);
      expect(found.standardSpread).toBeGreaterThan(0.8);
      expect(found.standardSpread).toBeLessThan(1.25);
    }
  });
});

test('errors along the line are alike over as many px as the core says', () => {
  const mean = correlations.reduce((sum, px) => sum + px, 0) / correlations.length;
  expect(correlations.length).toBe(2 * lineScenes.length);
  expect(mean).toBeGreaterThan(0.8 * FOUND_CORRELATED_PX);
  expect(mean).toBeLessThan(1.2 * FOUND_CORRELATED_PX);
});

describe('steps', () => {
  const sideErrors = (points: readonly LinePoint[], shot: LineShot) => {
    const { centrePx, on } = shot.light;
    const edges = [...on.keys()].filter((x) => x > 3 && on[x] !== on[x - 1] && on[x - 1] !== undefined);
    return points
      .filter(({ u }) => edges.some((edge) => u >= edge - 3 && u < edge + 3))
      .map(({ u, v, state }) => ({ error: Math.abs(v - centrePx[u]!), state }));
  };

  test('a box 15 mm proud: right up to the step the points lie at their own side, the column at it is suspect', async () => {
    const [still] = await takeShots('over a box 15 mm proud');
    const near = sideErrors(findLine(still.pictures[0]!, GREEN)!.points, still);
    expect(near.length).toBe(12);
    const found = near.filter(({ state }) => state === 'found');
    expect(found.length).toBeGreaterThanOrEqual(8);
    for (const { error } of found) expect(error).toBeLessThan(0.1);
  });

  test.each([3, 7, 15])('%i px high within one piece of the path, in a wide picture', (heightPx) => {
    const course = (u: number) => (u < 1801 ? 260.3 : 260.3 + heightPx) + 0.004 * u;
    const picture = drawPicture({ widthPx: 3600, heightPx: 600, course, noise: 1, widthLinePx: 5 });
    const { points } = findLine(picture, GREEN)!;
    expect(points.length).toBe(3600);
    const errors = points.map(({ u, v }) => Math.abs(v - course(u)));
    expect(Math.max(...errors)).toBeLessThan(0.15);
    expect(points.filter(({ why }) => why === 'two_peaks').map(({ u }) => u)).toEqual([1800, 1801]);
  });
});

test('behind a pipe: what it hides is a gap, the light on the pipe lies where the pipe is', async () => {
  const [still] = await takeShots('behind a pipe');
  const { points, gaps } = findLine(still.pictures[0]!, GREEN)!;
  const { on, centrePx } = still.light;
  for (const { u, v } of points) expect(Math.abs(v - centrePx[u]!)).toBeLessThan(1);
  const hidden = [...on.keys()].filter((u) => on[u] === ON.nothing);
  expect(hidden.every((u) => gaps.some(({ from, to }) => u >= from && u <= to))).toBe(true);
});

test('a crossing is bridged by each line itself, and says so', async () => {
  const [still] = await takeShots('crossed by a plumb line');
  const lines = findLines(still.pictures[0]!);
  expect(lines.map(({ axis }) => axis).sort()).toEqual(['level', 'plumb']);
  for (const { axis, points, gaps } of lines) {
    const bridge = points.filter(({ why }) => why === 'crossing');
    expect(bridge.length).toBeGreaterThan(8);
    expect(bridge.length).toBeLessThan(30);
    expect(gaps).toEqual([]);
    if (axis === 'level')
      for (const { u, v } of bridge) expect(Math.abs(v - still.light.centrePx[u]!)).toBeLessThan(0.05);
  }
});

test('a tape close by is not taken for the line when there is none', () => {
  for (const colour of ['red', 'green'] as const) {
    const picture = takePhotograph(
      makeScene('tape', { widthPx: 640, heightPx: 480, power: 0, tapeAwayMm: 11, kind: 'painted', colour }),
    );
    expect(findLine(picture, { axis: 'level', colour })).toBeNull();
  }
});
