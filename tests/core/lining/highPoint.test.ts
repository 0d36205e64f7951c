import { expect, test } from 'vitest';
import { findHighPoints } from '../../../src/core/lining/highPoint.ts';

const grid = (beds: readonly (readonly number[])[]) => {
  const [ny, nx] = [beds.length, beds[0]!.length];
  const bed = Float64Array.from(beds.flat());
  const surface = { stepMm: 50, nx, ny, out: bed.map((mm) => -50 - mm), sigma: bed.map((_, k) => k / 10) };
  return { surface, bed };
};

test('touching nodes side by side are one high point, at their middle; rows do not wrap round, none lies beyond the wall', () => {
  const { surface, bed } = grid([
    [5, 5, 5, 9, 5],
    [5, 9, 9, 9, 9],
    [NaN, 9, 5, 9, 9],
  ]);
  const points = findHighPoints(
    surface,
    bed,
    bed.map(() => 5),
    new Set(),
    { width: 190, height: 100 },
  );
  expect(points.map(({ along, up, sigma }) => [along, up, sigma])).toEqual([
    [50, 0, 0.1],
    [100, 100, 1.2],
    [190, 0, 0.4],
  ]);
  expect(points.every((point) => point.bed === 5 && point.out === -55)).toBe(true);
});

test('with sigmas asked it rests where bed and need are nearest; hacked masonry carries nothing', () => {
  const { surface, bed } = grid([[7, 9, 6, 5.5]]);
  const need = Float64Array.of(6, 5, 5.5, 5.4);
  const find = (hacked: ReadonlySet<number>) =>
    findHighPoints(surface, bed, need, hacked, { width: 500, height: 0 }).map(({ along }) => along);
  expect(find(new Set())).toEqual([150]);
  expect(find(new Set([3]))).toEqual([100]);
  expect(find(new Set([0, 1, 2, 3]))).toEqual([150]);
});
