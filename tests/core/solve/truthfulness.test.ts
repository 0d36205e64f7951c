import { expect, test } from 'vitest';
import { measureCoverage, type Coverage, type WallPart } from '../../truth/coverage.ts';
import { countTrials } from '../../truth/trials.ts';
import { wallKinds, type WallKind } from '../../truth/wall.ts';

const ALL_WALLS = 10;
const WALLS = countTrials(5, ALL_WALLS);

const measured = new Map<WallKind, Record<WallPart, Coverage>>();
const measure = (kind: WallKind) => {
  const coverage = measured.get(kind) ?? measureCoverage(kind, 100 * wallKinds.indexOf(kind) + 1, WALLS);
  measured.set(kind, coverage);
  return coverage;
};

/** Walls are independent: the limits of ten hold for a mean of n walls with their distance times sqrt(10 / n). */
const limit = (expected: number, limitOfTen: number) =>
  expected + (limitOfTen - expected) * Math.sqrt(ALL_WALLS / WALLS);

// 68 % and 95 % of the nodes would be within one and two sigma if errors were normal; other noise for each wall
test.each(wallKinds)(
  '%s walls: sigma is neither too small nor too large, near lines, between them, at the edges',
  (kind) => {
    const coverage = measure(kind);
    expect(coverage.all.within2).toBeGreaterThan(limit(0.95, 0.92));
    expect(coverage.all.within2).toBeLessThan(limit(0.95, 0.98));
    expect(coverage.all.within1).toBeGreaterThan(limit(0.68, 0.62));
    expect(coverage.all.within1).toBeLessThan(limit(0.68, 0.78));
    for (const part of ['near', 'between', 'edges'] as const)
      expect(coverage[part].within2).toBeGreaterThan(limit(0.95, 0.88));
  },
);

test('walls of all kinds together: within the limits of ten, however many there are of each', () => {
  const all = wallKinds.map(measure);
  const mean = (value: (coverage: Record<WallPart, Coverage>) => number) =>
    all.reduce((sum, coverage) => sum + value(coverage), 0) / all.length;
  expect(mean(({ all: { within2 } }) => within2)).toBeGreaterThan(0.92);
  expect(mean(({ all: { within2 } }) => within2)).toBeLessThan(0.98);
  expect(mean(({ all: { within1 } }) => within1)).toBeGreaterThan(0.62);
  expect(mean(({ all: { within1 } }) => within1)).toBeLessThan(0.78);
  for (const part of ['near', 'between', 'edges'] as const)
    expect(mean((coverage) => coverage[part].within2)).toBeGreaterThan(0.88);
});
