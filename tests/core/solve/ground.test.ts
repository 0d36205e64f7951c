import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { factorBand, invertBand, readBand, solveLower, solveUpper } from '../../../src/core/solve/banded.ts';
import { buildPrecision } from '../../../src/core/solve/field.ts';
import { createGrid, indexNode, locateOnGrid, varianceInCell } from '../../../src/core/solve/grid.ts';
import { layGround } from '../../../src/core/solve/ground.ts';
import { maternCorrelation } from '../../../src/core/solve/matern.ts';
import { isLined } from '../../../src/core/lining/linedNodes.ts';
import type { WallRect } from '../../../src/core/survey.ts';

const wall = { width: 3600, height: 2450 };
const window = { along: 1200, up: 600, width: 1200, height: 1200 };
const door = { along: 1350, up: 0, width: 900, height: 2000 };
const gateway = { along: 1200, up: 0, width: 1200, height: 2450 };

/** The field's prior on a wall with openings: covariances from one node, sd of any. */
function makeField(openings: readonly WallRect[], rangeMm: number, stepMm = 50, size = wall) {
  const grid = createGrid({ ...size, openings }, stepMm);
  const factor = factorBand(buildPrecision(grid, { rangeMm, sdMm: 1 }));
  const inverse = invertBand(factor);
  const nodeAt = (along: number, up: number) => indexNode(grid, along / stepMm, up / stepMm);
  return {
    grid,
    sdAt: (i: number, j: number) =>
      Math.sqrt(readBand(inverse, indexNode(grid, i, j), indexNode(grid, i, j))),
    covary: (a: readonly [number, number], b: readonly [number, number]) => {
      const column = new Float64Array(grid.nx * grid.ny);
      column[nodeAt(...a)] = 1;
      solveLower(factor, column);
      solveUpper(factor, column);
      return column[nodeAt(...b)]!;
    },
  };
}

describe('the field does not run through an opening', () => {
  test('round a wide opening, a wall 200 mm wide is correlated as one that runs straight, of the length of the way round', () => {
    const bent = [{ along: 200, up: 0, width: 800, height: 1400 }];
    // far from all of the straight wall, so that its grid has a ground too and the same sd
    const outside = [{ along: -100, up: -100, width: 50, height: 50 }];
    for (const rangeMm of [1000, 2000, 4000]) {
      const round = makeField(bent, rangeMm, 50, { width: 1200, height: 1600 });
      const straight = makeField(outside, rangeMm, 50, { width: 4000, height: 200 });
      for (const [place, wayMm] of [
        [[100, 700], 600],
        [[100, 1300], 1200],
        [[600, 1500], 1900],
        [[1100, 1300], 2600],
        [[1100, 100], 3800],
      ] as const) {
        const found = round.covary([100, 100], place);
        expect(Math.abs(found - straight.covary([100, 100], [100 + wayMm, 100]))).toBeLessThan(0.015);
      }
      expect(maternCorrelation(1000, rangeMm)).toBeGreaterThan(30 * round.covary([100, 100], [1100, 100]));
    }
  });
  // Both reveals at half height of openings in a whole wall, range 2 m, where the straight way says 0.36, 0.97 and 0.49.
  for (const [name, opening, roundMm] of [
    ['a wide window', window, 2400],
    ['a slot of 100 mm', { along: 1750, up: 600, width: 100, height: 1200 }, 1300],
    ['a door, joined above only', door, 2900],
  ] as const)
    test(`across ${name} it is correlated less than along the shortest way round in a whole wall`, () => {
      const up = opening.up + opening.height / 2;
      const { covary } = makeField([opening], 2000);
      const found = covary([opening.along, up], [opening.along + opening.width, up]);
      expect(found).toBeLessThan(maternCorrelation(roundMm, 2000));
      expect(found).toBeGreaterThan(0.002);
    });
  test('an opening over the full height leaves two walls that know nothing of each other', () => {
    const { covary } = makeField([gateway], 2000);
    expect(Math.abs(covary([1200, 1200], [2400, 1200]))).toBe(0);
    expect(covary([1200, 1200], [1000, 1200])).toBeGreaterThan(0.9);
  });
  test('along a wall beside an opening it is correlated as anywhere, within 0.04 square to it and 0.13 beside it', () => {
    const { covary } = makeField([window], 900);
    for (const mm of [100, 200, 400]) {
      expect(Math.abs(covary([1200, 1200], [1200 - mm, 1200]) - maternCorrelation(mm, 900))).toBeLessThan(
        0.04,
      );
      expect(Math.abs(covary([1200, 1200], [1200, 1200 + mm]) - maternCorrelation(mm, 900))).toBeLessThan(
        0.13,
      );
    }
  });
  test('half the step says the same across a window, within 0.01', () => {
    const at = [
      [1200, 1200],
      [2400, 1200],
    ] as const;
    const coarse = makeField([window], 2000, 100).covary(...at);
    const fine = makeField([window], 2000, 50).covary(...at);
    expect(Math.abs(coarse - fine)).toBeLessThan(0.01);
  });
});

describe('the sd that was asked for is kept', () => {
  const cases: readonly (readonly [string, readonly WallRect[]])[] = [
    ['at the reveals of a window', [window]],
    ['over a door', [door]],
    [
      'in a pier of 200 mm between two windows',
      [
        { along: 600, up: 900, width: 1100, height: 1200 },
        { along: 1900, up: 900, width: 1100, height: 1200 },
      ],
    ],
    ['in a pier of 100 mm at the wall’s end', [{ ...gateway, along: 100 }]],
    ['under a lintel of 150 mm', [{ ...door, height: 2300 }]],
    ['round overlapping openings', [window, { ...window, along: 2000, up: 1400, height: 1050 }]],
  ];
  for (const [name, openings] of cases)
    test(`${name}, within 5 % for ranges from 0.4 to 5 m`, () => {
      let worst = 0;
      for (const rangeMm of [400, 900, 2000, 5000]) {
        const { grid, sdAt } = makeField(openings, rangeMm, 50);
        for (let i = 0; i < grid.nx; i++)
          for (let j = 0; j < grid.ny; j++)
            if (grid.ground!.wall[j * grid.nx + i] === 1) worst = Math.max(worst, Math.abs(sdAt(i, j) - 1));
      }
      expect(worst).toBeLessThan(0.05);
    });
  test('on a grid finer than the one the spread is measured on, within 5 % at a window’s corners', () => {
    const { sdAt } = makeField([window], 2000, 25);
    for (const [i, j] of [
      [48, 24],
      [48, 48],
      [96, 72],
      [70, 72],
      [47, 23],
    ] as const)
      expect(Math.abs(sdAt(i, j) - 1)).toBeLessThan(0.05);
  });
});

describe('what is wall on a grid', () => {
  const fixed = { nx: 13, ny: 9, stepMm: 50 };
  const small = { width: 600, height: 400 };
  test('nothing changes without openings', () => {
    expect(layGround(fixed, small)).toBeNull();
    const plain = createGrid(small, 50);
    const same = createGrid({ ...small, openings: [] }, 50);
    expect(buildPrecision(same, { rangeMm: 900, sdMm: 8 })).toEqual(
      buildPrecision(plain, { rangeMm: 900, sdMm: 8 }),
    );
    expect(locateOnGrid(same, 123, 77)).toEqual(locateOnGrid(plain, 123, 77));
  });
  test('an opening under a step of the grid cuts the links that run through it and takes no node', () => {
    const ground = layGround(fixed, {
      ...small,
      openings: [{ along: 210, up: 190, width: 30, height: 20 }],
    })!;
    expect(ground.wall.every((is) => is === 1)).toBe(true);
    expect(ground.right[4 * 13 + 4]).toBe(0);
    expect(ground.right.reduce((sum, is) => sum + is, 0)).toBe(9 * 12 - 1);
    expect(ground.up.reduce((sum, is) => sum + is, 0)).toBe(8 * 13);
  });
  test('its nodes are those that are lined, and a link has wall at both ends', () => {
    const rect = fc.record({
      along: fc.integer({ min: -100, max: 600 }),
      up: fc.integer({ min: -100, max: 400 }),
      width: fc.integer({ min: 1, max: 500 }),
      height: fc.integer({ min: 1, max: 500 }),
    });
    fc.assert(
      fc.property(fc.array(rect, { minLength: 1, maxLength: 3 }), (openings) => {
        const { wall: isWall, right, up, nx, ny } = layGround(fixed, { ...small, openings })!;
        for (let j = 0; j < ny; j++)
          for (let i = 0; i < nx; i++) {
            const at = j * nx + i;
            expect(isWall[at] === 1).toBe(isLined({ ...small, openings }, i * 50, j * 50));
            if (right[at] === 1) expect([isWall[at], isWall[at + 1]]).toEqual([1, 1]);
            if (up[at] === 1) expect([isWall[at], isWall[at + nx]]).toEqual([1, 1]);
          }
      }),
      { seed: 4, numRuns: 200 },
    );
  });
  test('the threshold of a door, and the joint between openings that touch, are no wall', () => {
    const ground = layGround(fixed, {
      ...small,
      openings: [
        { along: 100, up: 0, width: 100, height: 200 },
        { along: 200, up: 0, width: 100, height: 200 },
      ],
    })!;
    expect([2, 3, 4, 5, 6].map((i) => ground.wall[i])).toEqual([1, 0, 0, 0, 1]);
    expect([1, 2, 3].map((j) => ground.wall[j * 13 + 4])).toEqual([0, 0, 0]);
    expect(ground.wall[4 * 13 + 4]).toBe(1);
  });
  test('an opening over the whole wall leaves none, and still has a place for everything', () => {
    const grid = createGrid({ ...small, openings: [{ along: -10, up: -10, width: 700, height: 500 }] }, 50);
    expect(grid.ground!.wall.every((is) => is === 0)).toBe(true);
    expect(locateOnGrid(grid, 300, 200).weights.reduce((sum, weight) => sum + weight, 0)).toBe(1);
    expect(() => factorBand(buildPrecision(grid, { rangeMm: 900, sdMm: 8 }))).not.toThrow();
  });
});

describe('a place beside an opening', () => {
  const opening = { along: 1215, up: 615, width: 1170, height: 1170 };
  const grid = createGrid({ ...wall, openings: [opening] }, 50);
  const heightOf = (node: number) => {
    const i = Math.floor(node / grid.ny);
    return 3 + 0.02 * i * 50 - 0.01 * (node - i * grid.ny) * 50;
  };
  const isWallNode = (node: number) => {
    const i = Math.floor(node / grid.ny);
    return grid.ground!.wall[(node - i * grid.ny) * grid.nx + i] === 1;
  };
  test('is read from nodes of wall alone, and a plane is gone on with exactly', () => {
    for (const [along, up] of [
      [1211, 1200],
      [2390, 1210],
      [1600, 608],
      [1600, 1799],
      [1212, 612],
      [2386, 1786],
    ] as const) {
      const place = locateOnGrid(grid, along, up);
      const used = place.nodes.filter((_, k) => place.weights[k] !== 0);
      expect(used.every(isWallNode)).toBe(true);
      const read = place.nodes.reduce((sum, node, k) => sum + place.weights[k]! * heightOf(node), 0);
      expect(read).toBeCloseTo(3 + 0.02 * along - 0.01 * up, 9);
    }
  });
  test('is never read across a slot narrower than the grid’s step', () => {
    const slotted = createGrid({ ...wall, openings: [{ along: 1203, up: -1, width: 4, height: 2460 }] }, 50);
    const sides = (along: number) => {
      const { nodes, weights } = locateOnGrid(slotted, along, 700);
      return nodes.filter((_, k) => weights[k] !== 0).map((node) => Math.floor(node / slotted.ny) * 50);
    };
    expect(Math.max(...sides(1202))).toBe(1200);
    expect(Math.min(...sides(1209))).toBe(1250);
  });
  test('has the noise of what it is read from: the variance of what is gone on with', () => {
    const near = locateOnGrid(grid, 1211, 1200);
    const { nodes, weights } = near;
    const at = nodes.map((node) => [Math.floor(node / grid.ny) * 50, (node % grid.ny) * 50] as const);
    let variance = 1;
    at.forEach(([x, y], a) => {
      variance -= 2 * weights[a]! * maternCorrelation(Math.hypot(1211 - x, 1200 - y), 900);
      at.forEach(
        ([p, q], b) =>
          (variance += weights[a]! * weights[b]! * maternCorrelation(Math.hypot(x - p, y - q), 900)),
      );
    });
    expect(varianceInCell(near, 50, 900)).toBeCloseTo(variance, 9);
    expect(variance).toBeGreaterThan(varianceInCell(locateOnGrid(grid, 1011, 1200), 50, 900));
  });
  test('in the opening itself is known as far as it is from the nearest reveal', () => {
    const middle = locateOnGrid(grid, 1290, 1200);
    expect(middle.weights.filter((weight) => weight === 1).length).toBe(1);
    expect(varianceInCell(middle, 50, 900)).toBeCloseTo(2 - 2 * maternCorrelation(90, 900), 9);
  });
});
