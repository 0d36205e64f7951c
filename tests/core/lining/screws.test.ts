import { describe, expect, test } from 'vitest';
import { defaultSettings } from '../../../src/core/lining/defaults.ts';
import { planLining } from '../../../src/core/lining/planLining.ts';
import { spaceColumns, spaceRows } from '../../../src/core/lining/fixing/screwRows.ts';
import { planScrews } from '../../../src/core/lining/screws.ts';
import { fixWall } from './fixing/fixWall.ts';
import { makeCase, windowWall } from './walls.ts';
import { solver } from '../../solver.ts';

const settings = defaultSettings();

describe('gauge screws', () => {
  test.each([
    [1200, [60, 600, 1140]],
    [900, [60, 450, 840]],
    [625, [60, 565]],
    [300, [60, 240]],
    [200, [100]],
    [40, []],
  ])('across a board of %d mm stand at %j', (width, columns) => {
    expect(spaceColumns(width, settings)).toEqual(columns);
  });
  test.each([
    [2400, [100, 650, 1200, 1750, 2300]],
    [2100, [150, 750, 1350, 1950]],
    [888, [144, 744]],
    [300, [60, 240]],
    [200, [100]],
    [40, []],
  ])('up a board of %d mm stand at %j', (height, rows) => {
    expect(spaceRows(height, settings)).toEqual(rows);
  });
  test('keep their rows 500 to 600 mm apart on every whole board', () => {
    for (let height = 1800; height <= 3600; height += 7) {
      const rows = spaceRows(height, settings);
      const apart = rows[1]! - rows[0]!;
      expect(apart).toBeLessThanOrEqual(600 + 1e-9);
      expect(apart).toBeGreaterThanOrEqual(500 - 1e-9);
      expect(rows[0]).toBeGreaterThanOrEqual(60 - 1e-9);
      expect(rows[0]).toBeLessThanOrEqual(200 + 1e-9);
    }
  });
  test('move off a box, and out of the lines straight from it, to the nearest clear place', () => {
    const box = { along: 580, up: 620, width: 80, height: 80 };
    const { screws } = fixWall({ boxes: [box] });
    const moved = screws.find(({ id }) => id === 'B0.5')!;
    const before = fixWall({}).screws.find(({ id }) => id === 'B0.5')!;
    // Planned within the box's lines both ways; its adhesive reaches 60 mm from it, a screw keeps 12 mm from that.
    expect(before).toMatchObject({ along: 645, up: 668 });
    let nearest = Infinity;
    for (let along = 445; along <= 845; along += 10) {
      for (let up = 468; up <= 868; up += 10) {
        const isInLine = (along > 580 && along < 660) || (up > 620 && up < 700);
        const isNear = along > 508 && along < 732 && up > 548 && up < 772;
        if (!isInLine && !isNear) nearest = Math.min(nearest, Math.hypot(along - 645, up - 668));
      }
    }
    expect(Math.hypot(moved.along - 645, moved.up - 668)).toBeCloseTo(nearest, 9);
    expect(moved.services).toBeNull();
  });
  test('in the middle of a window are left out', () => {
    const { survey, surface } = makeCase({ openings: [{ along: 1300, up: 700, width: 1000, height: 1300 }] });
    const { screws } = planLining(survey, surface, solver);
    const middle = screws.filter(({ along, up }) => along > 1250 && along < 2350 && up > 650 && up < 2050);
    expect(middle).toEqual([]);
  });
  test('stand as far out as the bed is deep there, with its sigma and zone', () => {
    const { survey, surface } = makeCase({ out: (along) => -60 - along / 100, sigmaMm: 1.4 });
    const plan = planLining({ ...survey, wall: { ...survey.wall } }, surface, solver);
    for (const { projection, fromLaser, sigma, zone } of plan.screws) {
      expect(projection).toBeCloseTo(5, 9);
      expect(sigma).toBeCloseTo(1.4, 12);
      expect(zone).toBe('normal');
      expect(fromLaser).toBeGreaterThan(55);
    }
    const deep = planScrews(
      plan.boards.slice(0, 1),
      survey.wall,
      {
        bed: { stepMm: 1200, nx: 2, ny: 1, values: Float64Array.of(10, 30) },
        sigma: { stepMm: 1200, nx: 1, ny: 1, values: Float64Array.of(0.5) },
        plane: { p: -40, q: 0, r: 0 },
        limits: survey.lining.bed,
      },
      settings,
    );
    expect(
      deep.slice(0, 3).map(({ id, projection, fromLaser, zone }) => [id, projection, fromLaser, zone]),
    ).toEqual([
      // 150 mm from the end of the wall, 60 mm from the joint, and between
      ['A1', 12.5, 40, 'normal'],
      ['A2', 20.75, 40, 'packed'],
      ['A3', 29, 40, 'packed'],
    ]);
  });
  test('are numbered in the order of work: from the bottom row, each from the left', () => {
    const { survey, surface } = makeCase(windowWall);
    const own = planLining(survey, surface, solver).screws.filter(({ board }) => board === 'C');
    expect(own.map(({ id }) => id)).toEqual(own.map((_, k) => `C${k + 1}`));
    own.slice(1).forEach((screw, k) => {
      const before = own[k]!;
      expect(screw.up > before.up || (screw.up === before.up && screw.along > before.along)).toBe(true);
    });
  });
});
