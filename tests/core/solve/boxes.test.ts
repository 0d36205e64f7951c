import { describe, expect, test } from 'vitest';
import type { Solution } from '../../../src/core/results.ts';
import { liesOnBox, warnOfBoxes } from '../../../src/core/solve/boxes.ts';
import type { Survey } from '../../../src/core/survey.ts';
import { makeSurvey } from '../../truth/survey.ts';
import { solveRoughly } from '../../truth/solveRoughly.ts';

// crossed by a level line, by a level and a plumb one, by a plumb one and by none
const boxes = [
  { along: 600, up: 1210, width: 80, height: 80, proud: 8 },
  { along: 1760, up: 1210, width: 90, height: 90, proud: -6 },
  { along: 400, up: 1500, width: 80, height: 80, proud: 3 },
  { along: 2500, up: 900, width: 80, height: 80, proud: 20 },
];
const options = {
  boxes,
  everyPx: 3,
  levels: [250, 1250, 2200],
  plumbs: [430, 1800, 3170],
  lens: { k1: -0.006, sigma: 0.001 },
};
const suspects = ({ warnings }: Solution) =>
  warnings.filter(({ code }) => code === 'box_suspect').map(({ subject }) => subject);
const typed = (survey: Survey, id: string, proud: number): Survey => ({
  ...survey,
  wall: {
    ...survey.wall,
    boxes: survey.wall.boxes.map((box) => (box.id === id ? { ...box, proud } : box)),
  },
});

describe('boxes under the lines', () => {
  const made = makeSurvey(3, 'plaster', options);
  const solution = solveRoughly(made.survey);

  test('are measured where a line crosses them, and only there', () => {
    expect(solution.boxes.map(({ id }) => id)).toEqual(['b1', 'b2', 'b3']);
    solution.boxes.forEach(({ proudMm, sigmaMm, count }, k) => {
      expect(Math.abs(proudMm - boxes[k]!.proud)).toBeLessThan(2 * sigmaMm);
      expect(Math.abs(proudMm - boxes[k]!.proud)).toBeLessThan(0.5);
      expect(sigmaMm).toBeGreaterThan(0.05);
      expect(sigmaMm).toBeLessThan(0.7);
      expect(count).toBeGreaterThan(15);
    });
    expect(solution.boxes[1]!.count).toBeGreaterThan(1.5 * solution.boxes[0]!.count);
    expect(suspects(solution)).toEqual([]);
  });
  test('are in no profile, and the surface runs on under them', () => {
    let beside = 0;
    for (const { axis, atMm, s } of solution.profiles)
      for (const place of s) {
        const [along, up] = axis === 'level' ? [place, atMm] : [atMm, place];
        expect(liesOnBox(made.survey.wall, along, up)).toBe(false);
        if (axis === 'level' && atMm === 1250 && along > 560 && along < 720) beside++;
      }
    expect(beside).toBeGreaterThan(15);
    const { out, nx, stepMm } = solution.surface;
    const under = out[(1250 / stepMm) * nx + 650 / stepMm]!;
    expect(Math.abs(under - made.truth(650, 1250))).toBeLessThan(1.5);
  });
  test('one that stands otherwise than typed is named, and bends nothing', () => {
    const wrong = solveRoughly(typed(made.survey, 'b2', 0));
    expect(suspects(wrong)).toEqual(['b2']);
    expect(wrong.boxes).toEqual(solution.boxes);
    expect(wrong.surface).toEqual(solution.surface);
  });
  test('without rule readings they are measured as well', () => {
    const { boxes: measured } = solveRoughly({ ...made.survey, readings: [] });
    measured.forEach(({ proudMm, sigmaMm }, k) => {
      expect(Math.abs(proudMm - boxes[k]!.proud)).toBeLessThan(0.6);
      expect(sigmaMm).toBeLessThan(0.8);
    });
  });
});

test('the stated sigma of a box covers its error on plaster, brick and bulges, and is not far too wide', () => {
  const errors = (['plaster', 'brick', 'bulged'] as const).flatMap((kind, seed) => {
    const lines = { everyPx: 5, plumbs: [1805] };
    const { survey } = makeSurvey(seed + 20, kind, { ...options, ...lines });
    const { boxes: measured } = solveRoughly(survey);
    return measured.map(({ id, proudMm, sigmaMm }) => (proudMm - boxes[Number(id[1]) - 1]!.proud) / sigmaMm);
  });
  expect(errors.length).toBe(6);
  expect(Math.max(...errors.map(Math.abs))).toBeLessThan(3);
  const spread = Math.sqrt(errors.reduce((sum, error) => sum + error ** 2, 0) / errors.length);
  expect(spread).toBeGreaterThan(0.15);
  expect(spread).toBeLessThan(1.3);
});

test('a difference is told from 1 mm and 3.29 sigma on', () => {
  const box = { ...boxes[0]!, id: 'b1', kind: 'socket' };
  const warned = (proudMm: number, sigmaMm: number) =>
    warnOfBoxes([box], [{ id: 'b1', proudMm, sigmaMm, count: 20 }]).length;
  expect(warned(8.9, 0.1)).toBe(0);
  expect(warned(9.1, 0.1)).toBe(1);
  expect(warned(6.9, 0.1)).toBe(1);
  expect(warned(11, 0.95)).toBe(0);
  expect(warned(11.2, 0.95)).toBe(1);
});
