import fc from 'fast-check';
import { expect, test } from 'vitest';
import { solveProgramme } from './linearProgramme.ts';

const objectives = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
] as const;
const box = [1, 0, 0, -1, 0, 1, 0, -1, 0, 0, 1, -1];

/** Least first unknown over every point where three rows meet and all rows hold. */
function searchCorners(rows: readonly (readonly number[])[]): number {
  let least = Infinity;
  const det = (
    a: readonly number[],
    b: readonly number[],
    c: readonly number[],
    k: readonly [number, number, number],
  ) =>
    a[k[0]]! * (b[k[1]]! * c[k[2]]! - b[k[2]]! * c[k[1]]!) -
    a[k[1]]! * (b[k[0]]! * c[k[2]]! - b[k[2]]! * c[k[0]]!) +
    a[k[2]]! * (b[k[0]]! * c[k[1]]! - b[k[1]]! * c[k[0]]!);
  for (let i = 0; i < rows.length; i++)
    for (let j = i + 1; j < rows.length; j++)
      for (let k = j + 1; k < rows.length; k++) {
        const three = [rows[i]!, rows[j]!, rows[k]!] as const;
        const d = det(...three, [0, 1, 2]);
        if (Math.abs(d) < 1e-9) continue;
        const x = [det(...three, [3, 1, 2]) / d, det(...three, [0, 3, 2]) / d, det(...three, [0, 1, 3]) / d];
        if (rows.every(([a, b, c, r]) => a! * x[0]! + b! * x[1]! + c! * x[2]! >= r! - 1e-7))
          least = Math.min(least, x[0]!);
      }
  return least;
}

test('the optimum is the best corner of all, found by trying every three rows', () => {
  const share = fc.integer({ min: -20, max: 20 }).map((n) => n / 10);
  const row = fc.tuple(
    share,
    share,
    share.map((b) => b - 1),
  );
  fc.assert(
    fc.property(fc.array(row, { minLength: 1, maxLength: 9 }), (more) => {
      const rows = [
        [1, 0, 0, -9],
        [0, 1, 0, -3],
        [0, -1, 0, -3],
        [0, 0, 1, -3],
        [0, 0, -1, -3],
        ...more.map(([b, c, r]) => [1, b, c, r]),
      ];
      const found = solveProgramme(Float64Array.from(rows.flat()), objectives, [0, 1, 3]);
      expect(found.ended).toBe('optimal');
      expect(found.at[0]).toBeCloseTo(searchCorners(rows), 6);
    }),
    { numRuns: 300, seed: 11 },
  );
});

test('among equals the later objectives decide', () => {
  // Any y in -1..1 is as good for x: the second objective takes it down, turned round it takes it up.
  const rows = Float64Array.from([...box, 0, -1, 0, -1]);
  expect(solveProgramme(rows, objectives, [0, 1, 2]).at).toEqual([-1, -1, -1]);
  const up = [[1, 0, 0], [0, -1, 0], [0, 0, 1]] as const; // prettier-ignore
  expect(solveProgramme(rows, up, [0, 3, 2]).at).toEqual([-1, 1, -1]);
});

test('rows that contradict each other are infeasible', () => {
  const rows = Float64Array.from([...box, -1, 0, 0, 2]);
  expect(solveProgramme(rows, objectives, [0, 1, 2]).ended).toBe('infeasible');
});

test('the active rows hold the optimum', () => {
  const rows = Float64Array.from([...box, 1, 1, 1, 5, 1, -1, 0.5, 4]);
  const { at, active, ended } = solveProgramme(rows, objectives, [0, 1, 2]);
  expect(ended).toBe('optimal');
  for (const i of active)
    expect(rows[4 * i]! * at[0] + rows[4 * i + 1]! * at[1] + rows[4 * i + 2]! * at[2]).toBeCloseTo(
      rows[4 * i + 3]!,
      9,
    );
});
