import { expect, test } from 'vitest';
import { measureNodeAreas } from '../../../src/core/next/nodeAreas.ts';
import { makeSurface } from '../../draw/walls.ts';
import type { Wall } from '../../../src/core/survey.ts';

const wall: Wall = {
  width: 3600,
  height: 2450,
  side: 'internal',
  openings: [{ id: 'o1', kind: 'window', along: 1500, up: 900, width: 700, height: 1200 }],
  boxes: [],
};
const sum = (values: Float64Array) => values.reduce((whole, value) => whole + value, 0);

test('sum to the wall less its openings, whatever the step', () => {
  for (const step of [25, 50, 100])
    expect(
      sum(
        measureNodeAreas(
          makeSurface(wall, () => -60, step),
          wall,
        ),
      ),
    ).toBeCloseTo(3.6 * 2.45 - 0.7 * 1.2, 9);
});

test('of a grid that reaches beyond the wall count the wall alone', () => {
  const odd = { ...wall, width: 3590, height: 2437, openings: [] };
  expect(
    sum(
      measureNodeAreas(
        makeSurface(odd, () => -60, 25),
        odd,
      ),
    ),
  ).toBeGreaterThan(0.99 * 3.59 * 2.437);
  expect(
    sum(
      measureNodeAreas(
        makeSurface(odd, () => -60, 25),
        odd,
      ),
    ),
  ).toBeLessThanOrEqual(3.59 * 2.437);
});

test('are a quarter in a corner, half at an end, none in an opening', () => {
  const areas = measureNodeAreas(
    makeSurface(wall, () => -60, 50),
    wall,
  );
  const nx = 73;
  expect(areas[0]).toBeCloseTo(0.000625, 9);
  expect(areas[10]).toBeCloseTo(0.00125, 9);
  expect(areas[5 * nx + 10]).toBeCloseTo(0.0025, 9);
  expect(areas[30 * nx + 35]).toBe(0);
});
