import { expect, test } from 'vitest';
import { measureCoverage } from '../../truth/coverage.ts';
import { wallKinds } from '../../truth/wall.ts';

const WALLS = 10;

// 68 % and 95 % of the nodes would be within one and two sigma if errors were normal; sixty walls, other noise for each
test.each(wallKinds.map((kind, k) => [kind, 100 * k + 1] as const))(
  '%s walls: sigma is neither too small nor too large, near lines, between them, at the edges',
  (kind, firstSeed) => {
    const coverage = measureCoverage(kind, firstSeed, WALLS);
    expect(coverage.all.within2).toBeGreaterThan(0.92);
    expect(coverage.all.within2).toBeLessThan(0.98);
    expect(coverage.all.within1).toBeGreaterThan(0.62);
    expect(coverage.all.within1).toBeLessThan(0.78);
    for (const part of ['near', 'between', 'edges'] as const)
      expect(coverage[part].within2).toBeGreaterThan(0.88);
  },
  120_000,
);
