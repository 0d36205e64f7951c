// Faults of the line that give wrong numbers without a crash; those of core, crossing, speckle and gaps are in findLines.test.ts.
import { describe, expect, test } from 'vitest';
import type { FoundLine } from '../../src/core/line/foundLine.ts';
import { findLine, findLines } from '../../src/vision/findLines.ts';
import { comparePoints } from '../truth/photographFile.ts';
import { makeScene, takePhotograph, trueLineOf, type TestScene } from '../truth/scenes.ts';
import { drawPicture } from './drawn.ts';

const SMALL = { widthPx: 640, heightPx: 480 } as const;
const STILL = { speckle: 0 } as const;

/** Errors across a level line (px) at its points; `astray` = those where no line is, or further than 3 px from it. */
function judge(line: FoundLine, scene: TestScene) {
  const { centrePx, visible } = trueLineOf(scene);
  const errors = line.points.map(({ u, v }) => (visible[u] ? v - centrePx[u]! : NaN));
  const near = errors.filter((error) => Math.abs(error) < 3);
  const seen = visible.reduce((sum, value) => sum + value, 0);
  return {
    astray: errors.length - near.length,
    coverage: near.length / seen,
    biasPx: near.reduce((sum, error) => sum + error, 0) / near.length,
  };
}

describe('Two bright points in a column', () => {
  test('a fainter second line over part of the picture: the points keep to the one that goes on', () => {
    const course = (u: number) => 150 + 0.02 * u;
    const size = { widthPx: 800, heightPx: 300, noise: 0 };
    const picture = drawPicture({ ...size, course, light: 0.4, noise: 2 });
    // what a shiny floor throws back: the same colour, bent the other way, for a third of the width
    const second = drawPicture({
      ...size,
      course: (u) => (u > 260 && u < 520 ? 190 - 0.02 * u : NaN),
      light: 0.3,
    });
    for (let i = 0; i < picture.rgba.length; i++)
      picture.rgba[i] = Math.max(picture.rgba[i]!, second.rgba[i]!);
    const line = findLine(picture, { axis: 'level', colour: 'green' })!;
    expect(line.points.length).toBeGreaterThan(780);
    for (const { u, v } of line.points) expect(Math.abs(v - course(u))).toBeLessThan(0.5);
  });

  test('a shiny floor: the line on the wall, not its mirror image', () => {
    const scene = makeScene('floor', {
      ...SMALL,
      kind: 'painted',
      upMm: 70,
      aim: 0,
      floorGloss: 0.35,
      tape: false,
    });
    const line = findLine(takePhotograph(scene, STILL), { axis: 'level', colour: 'green' })!;
    const { astray, coverage } = judge(line, scene);
    expect(astray).toBe(0);
    expect(coverage).toBeGreaterThan(0.95);
  });
});

describe('Red wall and red laser', () => {
  test.each([
    ['red', [0.42, 0.1, 0.07]],
    ['green', [0.12, 0.36, 0.14]],
  ] as const)('%s on its own paint, faint: a gap rather than a guess', (colour, paint) => {
    for (const power of [1.5, 0.15]) {
      const scene = makeScene('paint', { ...SMALL, kind: 'painted', paint, colour, power, tape: false });
      const line = findLine(takePhotograph(scene, STILL), { axis: 'level', colour });
      const { astray, coverage } = line ? judge(line, scene) : { astray: 0, coverage: 0 };
      expect(astray, `power ${power}`).toBe(0);
      if (power > 1) expect(coverage).toBeGreaterThan(0.95);
    }
  });
});

test('Room light: the same line at a tenth to three times the light lies at the same place', () => {
  const seen = [0.1, 0.5, 1, 2, 3].map((lightLevel) => {
    const scene = makeScene('light', { ...SMALL, kind: 'painted', lightLevel, power: 1.5, tape: false });
    const exposure = 1 / Math.max(1, lightLevel);
    const picture = takePhotograph(scene, { ...STILL, exposure });
    const line = findLine(picture, { axis: 'level', colour: 'green' })!;
    return { lightLevel, line, ...judge(line, scene) };
  });
  for (const { lightLevel, biasPx, astray, line } of seen) {
    expect(astray, `light ${lightLevel}`).toBe(0);
    expect(Math.abs(biasPx), `light ${lightLevel}`).toBeLessThan(0.03);
    expect(comparePoints(line.points, seen[0]!.line.points).medianPx).toBeLessThan(0.1);
  }
});

test('A white, clipped core: one line of one colour, its points in the middle of the white', () => {
  const scene = makeScene('clipped', { ...SMALL, kind: 'painted', power: 20 });
  const picture = takePhotograph(scene, STILL);
  const { centrePx } = trueLineOf(scene);
  const white = (u: number) => {
    const k = 4 * (Math.round(centrePx[u]!) * picture.widthPx + u);
    return Math.min(picture.rgba[k]!, picture.rgba[k + 1]!, picture.rgba[k + 2]!) > 240;
  };
  expect(Array.from({ length: 600 }, (_, u) => white(20 + u)).filter(Boolean).length).toBeGreaterThan(300);
  const lines = findLines(picture);
  expect(lines.map(({ axis, colour }) => `${axis} ${colour}`)).toEqual(['level green']);
  const { astray, coverage, biasPx } = judge(lines[0]!, scene);
  expect(astray).toBe(0);
  expect(coverage).toBeGreaterThan(0.97);
  expect(Math.abs(biasPx)).toBeLessThan(0.05);
});
