import { describe, expect, test } from 'vitest';
import { fitBedPlane } from '../../src/core/lining/bedPlane.ts';
import { solver } from '../solver.ts';
import { gatherSpots, limitSlopes } from '../core/lining/plane/spots.ts';
import { placeJoints } from '../../src/core/lining/joints.ts';

// Twelve made wall points: along, up (m), laser-to-wall distance (mm). The planes that touch them were computed with scipy
// 1.17 `linprog`; there the plane is a distance, here it stands at out = -distance.
const twelvePoints = [
  [0.2, 0.3, 14.2],
  [1, 0.3, 11.8],
  [1.8, 0.3, 9.6],
  [2.6, 0.3, 12.5],
  [3.4, 0.3, 17.1],
  [0.2, 1.2, 16.4],
  [1, 1.2, 8.3],
  [1.8, 1.2, 5.2],
  [2.6, 1.2, 10.9],
  [3.4, 1.2, 18.8],
  [0.6, 2.2, 13.0],
  [3, 2.2, 15.7],
] as const;
const spots = gatherSpots(
  twelvePoints.map(([along, up, distance]) => [1000 * along, 1000 * up, -distance] as const),
);

describe('bed plane on twelve points with a least bed of 5 mm, against scipy linprog', () => {
  test('parallel to the laser plane', () => {
    const { plane, meanBedMm, maxBedMm } = fitBedPlane(spots, limitSlopes(0, 0), solver);
    expect(plane.p).toBeCloseTo(-0.2, 9);
    expect(plane).toMatchObject({ q: 0, r: 0 });
    expect(meanBedMm).toBeCloseTo(12.591666666666669, 9);
    expect(maxBedMm).toBeCloseTo(18.6, 9);
  });
  // The middle of the points lies straight above two that the plane touches, so many turns are equally good: linprog
  // stops at one of them, ours is the one that turns least.
  test.each([
    ['at most 2 mm/m', 0.002, [-1, 2, -2], 12.175, 19.4],
    ['free', Infinity, [-0.4583333333, 3.625, -4.888888889], 11.573148148, 22.038888889],
  ] as const)('turn and lean %s', (_name, most, [f, fx, fy], mean, max) => {
    const fit = fitBedPlane(spots, limitSlopes(most, most), solver);
    expect(fit.meanBedMm).toBeCloseTo(mean, 8);
    const bedOf = (p: number, q: number, r: number) =>
      twelvePoints.map(([x, y, z]) => p + 1000 * (q * x + r * y) + z);
    const published = bedOf(-f, -fx / 1000, -fy / 1000);
    expect(Math.min(...published)).toBeCloseTo(5, 8);
    expect(Math.max(...published)).toBeCloseTo(max, 8);
    expect(published.reduce((sum, bed) => sum + bed, 0) / 12).toBeCloseTo(fit.meanBedMm, 8);
    expect(Math.min(...bedOf(fit.plane.p, fit.plane.q, fit.plane.r))).toBeCloseTo(5, 9);
    expect(Math.abs(fit.plane.q)).toBeLessThan(fx / 1000);
    expect(fit.maxBedMm).toBeLessThan(max);
  });
});

// A wavy wall of 3351 nodes with a window, in a formula; optima computed with scipy 1.17 `linprog` (HiGHS dual simplex,
// tolerances 1e-10) in metres and millimetres.
describe('bed plane on a wavy wall of 3351 nodes, against scipy linprog', () => {
  const nodes: [number, number, number][] = [];
  for (let up = 0; up <= 2450; up += 50) {
    for (let along = 0; along <= 3600; along += 50) {
      if (along > 1500 && along < 2200 && up > 900 && up < 2100) continue;
      const waves = 8 * Math.sin(along / 600) * Math.cos(up / 800) + 3 * Math.sin(along / 130 + up / 170);
      nodes.push([along, up, -60 + waves + 0.002 * along - 0.003 * up]);
    }
  }
  const wall = gatherSpots(nodes);
  const inf = Infinity;
  test.each([
    ['parallel', 0, 0, -42.07585870507316, 0, 0, 17.904039453009972, 33.33927543590643],
    [
      'plumb, free to turn',
      inf,
      0,
      -39.92943869507501,
      -2.0694474042261595,
      0,
      16.334686674551495,
      33.70347963408728,
    ],
    [
      'lean up to 2 mm/m',
      inf,
      0.002,
      -42.2686715761979,
      0.19281287112474388,
      -2,
      15.656504446291947,
      28.46819736657514,
    ],
    [
      'free',
      inf,
      inf,
      -43.6639885631686,
      1.5929082395237026,
      -3.1495552851595634,
      15.395114732963636,
      25.866579604622316,
    ],
  ] as const)('%s', (_name, turnMost, leanMost, p, q, r, mean, max) => {
    expect(nodes.length).toBe(3351);
    const fit = fitBedPlane(wall, limitSlopes(turnMost, leanMost), solver);
    expect(fit.plane.p).toBeCloseTo(p, 8);
    expect(1000 * fit.plane.q).toBeCloseTo(q, 8);
    expect(1000 * fit.plane.r).toBeCloseTo(r, 8);
    expect(fit.meanBedMm).toBeCloseTo(mean, 8);
    expect(fit.maxBedMm).toBeCloseTo(max, 8);
  });
});

// Balanced end strips, worked by hand: a rest under 300 mm is joined with one board and halved; 4000 mm = 3 boards and a
// 400 mm strip is a DIY page's example of setting out a wall. The 300 mm least strip is common practice, from memory.
test.each([
  [4850, [625, 1200, 1200, 1200, 625]],
  [2450, [625, 1200, 625]],
  [2500, [650, 1200, 650]],
  [4000, [1200, 1200, 1200, 400]],
  [3600, [1200, 1200, 1200]],
])('a wall of %d mm is cut into boards of %j', (to, widths) => {
  const joints = placeJoints({
    from: 0,
    to,
    boardMm: 1200,
    minStripMm: 300,
    noJoint: [],
    prefer: 'balanced',
  });
  const cuts = [0, ...joints, to];
  expect(cuts.slice(1).map((cut, i) => cut - cuts[i]!)).toEqual(widths);
});
