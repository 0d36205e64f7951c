import { beforeAll, describe, expect, test } from 'vitest';
import type { LaserLine, Pin } from '../../src/core/survey.ts';
import { findLine } from '../../src/vision/findLines.ts';
import { lookAtPhoto } from '../../src/vision/look.ts';
import type { OpenCv } from '../../src/vision/opencv/types.ts';
import { loadOpenCvInNode } from '../opencvNode.ts';
import { makeSurvey, makePhoto } from '../../src/app/newSurvey.ts';
import { makeScene, takePhotograph, trueLineOf } from '../truth/scenes.ts';
import { drawPicture } from './drawn.ts';

let cv: OpenCv;
beforeAll(async () => {
  cv = (await loadOpenCvInNode()).cv;
});

const [WIDTH, HEIGHT] = [900, 680];
const strong = (u: number) => 200 + 0.01 * u;
const weak = (u: number) => 330 + 0.015 * u;
/** A strong and a weaker line on one wall; `from`..`to` of the weaker one is behind something. */
function drawTwo(hidden = { from: Infinity, to: -Infinity }) {
  const one = drawPicture({ widthPx: WIDTH, heightPx: HEIGHT, course: strong, light: 0.4 });
  const course = (u: number) => (u >= hidden.from && u <= hidden.to ? NaN : weak(u));
  const other = drawPicture({ widthPx: WIDTH, heightPx: HEIGHT, course, light: 0.06, seed: 2 });
  const half = 4 * WIDTH * 265;
  return { ...one, rgba: one.rgba.map((value, k) => (k < half ? value : other.rgba[k]!)) };
}
const wanted = { axis: 'level', colour: 'green' } as const;
const missPx = (points: readonly Pin[], course: (u: number) => number) =>
  points.map(({ u, v }) => Math.abs(v - course(u))).sort((a, b) => a - b)[Math.floor(0.95 * points.length)]!;

describe('a line through pins', () => {
  test('without a pin the strong line is found, with one on the weaker line that one', () => {
    const picture = drawTwo();
    expect(missPx(findLine(picture, wanted)!.points, strong)).toBeLessThan(0.5);
    const pinned = findLine(picture, { ...wanted, pins: [{ u: 300, v: weak(300) + 3 }] })!;
    expect(missPx(pinned.points, weak)).toBeLessThan(1);
    expect(pinned.points.length).toBeGreaterThan(0.9 * WIDTH);
  });

  test('two pins: it passes through both and keeps the gap between them', () => {
    const hidden = { from: 380, to: 520 };
    const pins = [
      { u: 700, v: weak(700) },
      { u: 150, v: weak(150) },
    ];
    const { points, gaps } = findLine(drawTwo(hidden), { ...wanted, pins })!;
    expect(missPx(points, weak)).toBeLessThan(1);
    expect(points.filter(({ u }) => u > hidden.from + 6 && u < hidden.to - 6)).toEqual([]);
    expect(gaps.some(({ from, to }) => from < 400 && to > 500)).toBe(true);
    for (const pin of pins)
      expect(points.some(({ u, v }) => Math.hypot(u - pin.u, v - pin.v) < 4)).toBe(true);
  });

  test('a plumb line is followed too', () => {
    const course = (v: number) => 400 - 0.02 * v;
    const picture = drawPicture({ widthPx: 680, heightPx: WIDTH, axis: 'plumb', course, light: 0.06 });
    const pins = [{ u: course(450), v: 450 }];
    const { points } = findLine(picture, { axis: 'plumb', colour: 'green', pins })!;
    const misses = points.map(({ u, v }) => Math.abs(u - course(v))).sort((a, b) => a - b);
    expect(misses[Math.floor(0.95 * misses.length)]).toBeLessThan(1);
  });

  test('a line too faint to be found of itself is found where it is pinned', () => {
    const scene = makeScene('faint', { power: 0.13 });
    const picture = takePhotograph(scene);
    const truth = trueLineOf(scene).centrePx;
    expect(findLine(picture, wanted)).toBeNull();
    const { points } = findLine(picture, { ...wanted, pins: [{ u: 500, v: truth[500]! }] })!;
    expect(points.length).toBeGreaterThan(600);
    const errors = points.map(({ u, v }) => v - truth[u]!).filter(Number.isFinite);
    const rms = Math.sqrt(errors.reduce((sum, error) => sum + error ** 2, 0) / errors.length);
    expect(rms).toBeGreaterThan(0.2);
    expect(rms).toBeLessThan(0.8);
  });

  test.each(['plaster', 'brick', 'painted'] as const)('no light at the pin, no line: %s', (kind) => {
    const picture = takePhotograph(makeScene(kind, { kind, power: 0 }));
    for (const v of [250, 480, 700])
      for (const colour of ['red', 'green'] as const)
        for (const axis of ['level', 'plumb'] as const)
          expect(findLine(picture, { axis, colour, pins: [{ u: 600, v }] })).toBeNull();
  });
});

describe('pins of the survey', () => {
  const line: LaserLine = {
    id: 'l1',
    colour: 'green',
    sheet: { axis: 'level', at: null },
    points: [],
    gaps: [],
  };
  const surveyWith = (lines: readonly LaserLine[]) => {
    const base = makeSurvey('Wall', 3600, 2450, 'mm');
    const facts = { widthPx: WIDTH, heightPx: HEIGHT, focal35Mm: null };
    const photo = makePhoto(base, 'photos/a.jpg', facts, { axis: 'level', colour: 'green' });
    return { ...base, photos: [{ ...photo, lines }] };
  };
  const look = (lines: readonly LaserLine[], only?: string) =>
    lookAtPhoto(cv, drawTwo(), surveyWith(lines), 'f1', { focal35Mm: null, again: true, only });

  test('are honoured, kept, and points by hand stay', () => {
    const byHand = { u: 200, v: 336, sigma: 0.5, state: 'moved' as const };
    const pins = [{ u: 450, v: weak(450) }];
    const { photo } = look([{ ...line, pins, points: [byHand] }]);
    expect(photo.lines[0]!.pins).toEqual(pins);
    expect(photo.lines[0]!.points).toContainEqual(byHand);
    expect(missPx(photo.lines[0]!.points, weak)).toBeLessThan(1.5);
  });

  test('one with no light near it is told: pin_unseen', () => {
    const { photo, warnings } = look([{ ...line, pins: [{ u: 450, v: 600 }] }]);
    expect(photo.lines[0]!.points).toEqual([]);
    expect(warnings).toContainEqual({ code: 'pin_unseen', subject: 'f1', count: 1 });
    expect(warnings.map(({ code }) => code)).toContain('no_line');
  });

  test('only the line that is asked for is looked for', () => {
    const other = { ...line, id: 'l2', points: [{ u: 5, v: 5, sigma: 1, state: 'found' as const }] };
    const { photo } = look([{ ...line, pins: [{ u: 450, v: weak(450) }] }, other], 'l1');
    expect(photo.lines[1]).toEqual(other);
    expect(photo.lines[0]!.points.length).toBeGreaterThan(500);
  });
});
