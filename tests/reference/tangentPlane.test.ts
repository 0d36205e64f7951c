import { expect, test } from 'vitest';
import { fitBedPlane } from '../../src/core/lining/bedPlane.ts';
import { gatherSpots, limitSlopes, type Spot } from '../core/lining/plane/spots.ts';
import { solver } from '../solver.ts';
import { seedRandom } from '../truth/random.ts';
import { fitTangentPlane } from '../truth/tangentPlane.ts';

/** A wall of waves, bumps and grain on a grid of 100 mm, some of it missing. */
function makeSpots(random: () => number): Spot[] {
  const [width, height] = [8 + Math.floor(random() * 30), 6 + Math.floor(random() * 20)];
  const phase = Array.from({ length: 4 }, () => 6 * random());
  const [deep, turn, lean] = [20 * random(), 0.01 * (random() - 0.5), 0.01 * (random() - 0.5)];
  const spots: Spot[] = [];
  for (let i = 0; i <= width; i++)
    for (let j = 0; j <= height; j++) {
      const waves = Math.sin(i / 5 + phase[0]!) * Math.cos(j / 6 + phase[1]!);
      const grain = Math.sin(i * 1.3 + phase[2]!) * Math.sin(j * 1.7 + phase[3]!) + 0.5 * random();
      if (random() < 0.9)
        spots.push([100 * i, 100 * j, -60 + deep * waves + grain + 100 * (turn * i + lean * j)]);
    }
  return spots;
}

// The independent method is a dual simplex in three unknowns of our own (tests/truth/linearProgramme.ts), after Lemke, "The dual method
// of solving the linear programming problem", Nav. Res. Logist. Q. 1 (1954); it takes every row at once.
test('the bed plane of 200 random walls is that of an independent method, free and within limits', () => {
  const limits = [Infinity, 0, 0.001, 0.004];
  let worst = 0;
  for (let seed = 1; seed <= 200; seed++) {
    const stream = seedRandom(seed);
    const random = () => stream.uniform();
    const spots = makeSpots(random);
    const turnMost = limits[Math.floor(4 * random())]!;
    const leanMost = limits[seed % 4]!;
    const needMm = 3 + Math.floor(8 * random());
    const nodes = gatherSpots(spots, needMm);
    const fit = fitBedPlane(nodes, limitSlopes(turnMost, leanMost), solver);
    const own = fitTangentPlane(nodes, { minBedMm: needMm, turnMost, leanMost });
    expect(1000 * fit.plane.q).toBeCloseTo(1000 * own.plane.q, 8);
    expect(1000 * fit.plane.r).toBeCloseTo(1000 * own.plane.r, 8);
    expect(fit.plane.p).toBeCloseTo(own.plane.p, 7);
    expect(fit.maxBedMm).toBeCloseTo(own.maxBedMm, 7);
    worst = Math.max(worst, Math.abs(fit.meanBedMm - own.meanBedMm));
  }
  expect(worst).toBeLessThan(1e-9);
});
