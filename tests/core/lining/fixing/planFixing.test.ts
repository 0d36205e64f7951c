import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { anyWall, makeCase, windowWall } from '../walls.ts';
import type { Board } from '../../../../src/core/results.ts';
import { fixWall } from './fixWall.ts';

/** How far the right end of a board's bottom and top stands above its left (mm); null = level. */
const anyEnds = fc.option(
  fc.record({ bottom: fc.integer({ min: -60, max: 60 }), top: fc.integer({ min: -200, max: 200 }) }),
);

/** The outline of a board whose ends slope so; only boards without cut-outs have one here. */
function slopeEnds(
  { along, up, width, height, cutouts }: Board,
  ends: { bottom: number; top: number } | null,
) {
  if (!ends || cutouts.length > 0 || height < 400) return null;
  const { bottom, top } = ends;
  return [
    { along, up: up + Math.max(0, -bottom) },
    { along: along + width, up: up + Math.max(0, bottom) },
    { along: along + width, up: up + height - Math.max(0, -top) },
    { along, up: up + height - Math.max(0, top) },
  ];
}

test('law: on random walls and settings', () => {
  const anySettings = fc.record({
    coverageShare: fc.double({ min: 0.12, max: 0.5, noNaN: true }),
    dabRowMm: fc.integer({ min: 200, max: 400 }),
    stripWidthMm: fc.integer({ min: 0, max: 120 }),
    sealAllRound: fc.constantFrom(0, 1),
    packingWidthMm: fc.integer({ min: 60, max: 200 }),
    screwDabClearMm: fc.integer({ min: 5, max: 30 }),
    serviceZoneMm: fc.constantFrom(0, 150, 250),
  });
  const anyBed = fc.constantFrom(
    { min: 5, max: 20, packedMax: 40 },
    { min: 3, max: 15, packedMax: 70 },
    { min: 10, max: 12, packedMax: 30 },
  );
  fc.assert(
    fc.property(anyWall, anySettings, fc.boolean(), anyEnds, anyBed, (wall, settings, usual, ends, bed) => {
      if (!makeCase(wall).surface.out.some((value) => !Number.isNaN(value))) return;
      fixWall({
        ...wall,
        bed,
        lining: usual ? {} : { settings },
        outlineOf: (board) => slopeEnds(board, ends),
      });
    }),
    { numRuns: 50, seed: 12 },
  );
});

describe('strips of adhesive', () => {
  test('go round a window and a box, and along the bottom, unbroken but for a screw', () => {
    const { dabs } = fixWall(windowWall);
    const areaOf = (kind: string) =>
      dabs.filter((dab) => dab.kind === kind).reduce((sum, { width, height }) => sum + width * height, 0);
    // 75 mm, 25 mm from the window of 700 x 1200 mm; 50 mm, 10 mm from the box of 80 x 80 mm; three boards of 1200 mm.
    expect(areaOf('round_opening')).toBeCloseTo(900 * 1400 - 750 * 1250, 6);
    expect(areaOf('round_box')).toBeCloseTo(200 * 200 - 100 * 100, 6);
    expect(areaOf('bottom')).toBeCloseTo(3 * 1150 * 75, 6);
    expect(areaOf('edge')).toBe(0);
  });
  test('at a door end at it and go up beside it', () => {
    const { dabs } = fixWall({ openings: [{ along: 1500, up: 0, width: 900, height: 2050 }] });
    const bottom = dabs.filter(({ kind }) => kind === 'bottom');
    expect(bottom.map(({ along, width }) => [along, along + width])).toEqual([
      [25, 1175],
      [1225, 1475],
      [2425, 3575],
    ]);
    const beside = dabs.filter(({ kind, height }) => kind === 'round_opening' && height > 1000);
    expect(beside.map(({ along }) => along)).toEqual([1400, 2425]);
  });
  test('all round, where that is asked for: at the floor, the ceiling and both ends, not at joints', () => {
    const { dabs } = fixWall({ lining: { settings: { sealAllRound: 1 } } });
    const edge = dabs.filter(({ kind }) => kind === 'edge');
    expect(edge.filter(({ height }) => height > 1000).map(({ along }) => along)).toEqual([25, 3500]);
    expect(edge.filter(({ width }) => width > 1000)).toHaveLength(3);
  });
  test('follow a sloping ceiling in steps and stay within the board', () => {
    const { boards, dabs } = fixWall({
      lining: { settings: { sealAllRound: 1 } },
      outlineOf: ({ along, up, width, height }) => [
        { along, up },
        { along: along + width, up: up + 15 },
        { along: along + width, up: up + height },
        { along, up: up + height - 60 },
      ],
    });
    expect(boards[0]!.outline).toHaveLength(4);
    expect(dabs.filter(({ kind, board }) => kind === 'edge' && board === 'B1.').length).toBeGreaterThan(4);
  });
});

test('a whole board is held as it is drawn: a row of 3, 3 columns of 8, two dabs between one screw and the next', () => {
  const { dabs, screws } = fixWall({ width: 3600 });
  const own = dabs.filter(({ board, kind }) => board === 'B1.' && kind === 'dab');
  expect(own).toHaveLength(3 + 3 * 8);
  const rows = [...new Set(screws.filter(({ board }) => board === 'B1.').map(({ up }) => up))];
  const inMiddle = own.filter(({ along, height }) => along < 1800 && along > 1600 && height > 100);
  rows.slice(1).forEach((row, k) => {
    expect(inMiddle.filter(({ up }) => up > rows[k]! && up < row)).toHaveLength(2);
  });
});

test('contact_short where there is no room for the contact asked for', () => {
  const { warnings } = fixWall({ width: 1200, lining: { settings: { coverageShare: 1 } } });
  expect(warnings.map(({ code, subject }) => [code, subject])).toContainEqual(['contact_short', 'B0.']);
});

test('no fewer adhesive is used for a greater contact', () => {
  const volumeL = (coverageShare: number) =>
    fixWall({ ...windowWall, lining: { settings: { coverageShare } } }).dabs.reduce(
      (sum, dab) => sum + dab.volumeL,
      0,
    );
  const volumes = [0.15, 0.2, 0.25, 0.3, 0.4].map(volumeL);
  volumes.slice(1).forEach((volume, k) => expect(volume).toBeGreaterThanOrEqual(volumes[k]!));
});
