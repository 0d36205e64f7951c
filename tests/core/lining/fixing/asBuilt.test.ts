import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { measureTwist, offAt, restBoard, type Rest } from '../../../../src/core/lining/fixing/restPlane.ts';
import { fixWall, type FixingOptions } from './fixWall.ts';

const wavy = (along: number, up: number) => -60 + 4 * Math.sin(along / 500) * Math.cos(up / 700);

/** A wall whose screws of board B1. were set as planned and `off` further out; undefined = still to come. */
function set(off: (k: number, count: number) => number | undefined, options: FixingOptions = { out: wavy }) {
  const own = fixWall(options).screws.filter(({ board }) => board === 'B1.');
  const asBuilt = own.flatMap(({ id, projection }, k) => {
    const by = off(k, own.length);
    return by === undefined ? [] : [{ screw: id, projection: projection + by }];
  });
  const plan = fixWall({ ...options, lining: { ...options.lining, asBuilt } });
  return { ...plan, own, board: plan.asBuilt.boards[0]! };
}

describe('screws as set', () => {
  test('as planned: good, nothing to warn of', () => {
    const { board, asBuilt, warnings } = set(() => 0);
    expect(board).toMatchObject({ board: 'B1.', state: 'good', worst: null, next: [] });
    expect(asBuilt.boards).toHaveLength(1);
    expect(
      asBuilt.screws.every(({ withinTolerance, offMm }) => withinTolerance && Math.abs(offMm) < 1e-9),
    ).toBe(true);
    expect(warnings).toEqual([]);
  });
  test('a little off either way, all within tolerance: good', () => {
    expect(set((k) => (k % 2 ? 0.95 : -0.95)).board.state).toBe('good');
  });
  test('one 5 mm proud: rocks, on that screw, by so much', () => {
    const { board, own, warnings } = set((k) => (k === 4 ? 5 : 0));
    expect(board.state).toBe('rocks');
    expect(board.worst).toMatchObject({ along: own[4]!.along, up: own[4]!.up });
    expect(board.worst!.byMm).toBeCloseTo(5, 6);
    expect(warnings).toEqual([
      { code: 'screw_off', subject: 'wall', count: 1 },
      { code: 'board_binds', subject: 'B1.' },
    ]);
  });
  test('one 5 mm proud in a corner: rocks, on that screw', () => {
    const { board, own } = set((k) => (k === 0 ? 5 : 0));
    expect(board.state).toBe('rocks');
    expect(board.worst).toMatchObject({ along: own[0]!.along, up: own[0]!.up });
  });
  test('all 8 mm low: binds on the masonry, 8 mm under the least bed where it is that', () => {
    const { board, warnings, own } = set(() => -8, { out: () => -60 });
    expect(board.state).toBe('binds');
    expect(board.worst!.byMm).toBeCloseTo(8, 9);
    expect(warnings.map(({ code }) => code)).toEqual(['screw_off', 'board_binds']);
    expect(warnings[0]!.count).toBe(own.length);
  });
  test('all 3 mm proud: lies flat, but off the plane', () => {
    const { board, warnings } = set(() => 3);
    expect(board.state).toBe('off');
    expect(board.worst!.byMm).toBeCloseTo(3, 9);
    expect(warnings.map(({ code }) => code)).toEqual(['screw_off']);
  });
  test('3 mm low where the bed has room: off, not bound; where it has none: bound', () => {
    expect(set(() => -3, { out: (along) => (along < 1000 ? -60 : -70) }).board.state).toBe('off');
    expect(set(() => -3, { out: () => -60 }).board.state).toBe('binds');
  });
  test('a screw of another plan is not read', () => {
    const { asBuilt } = fixWall({ lining: { asBuilt: [{ screw: 'Z99', projection: 12 }] } });
    expect(asBuilt).toEqual({ screws: [], boards: [] });
  });
});

describe('screws still to come', () => {
  test('may stand as planned, within tolerance, while those set are', () => {
    const { board, own } = set((k) => (k < 3 ? 0.5 : undefined));
    expect(board.state).toBe('open');
    expect(board.next).toHaveLength(own.length - 3);
    board.next.forEach(({ screw, least, most }, k) => {
      expect(screw).toBe(own[k + 3]!.id);
      expect([least, most]).toEqual([own[k + 3]!.projection - 1, own[k + 3]!.projection + 1]);
    });
  });
  test('follow a first row set 3 mm proud', () => {
    const { board, own } = set((k) => (k < 3 ? 3 : undefined));
    expect(board.state).toBe('open');
    board.next.forEach(({ least, most }, k) => {
      expect((least + most) / 2 - own[k + 3]!.projection).toBeCloseTo(3, 3);
    });
  });
  test('follow the tilt of two rows', () => {
    const tilt = (k: number) => (k < 3 ? 4 : k < 6 ? 3 : undefined);
    const { board, own } = set(tilt);
    const [first, second, third] = [own[0]!.up, own[3]!.up, own[6]!.up];
    const expected = 3 - (third - second) / (second - first);
    expect((board.next[0]!.least + board.next[0]!.most) / 2 - own[6]!.projection).toBeCloseTo(expected, 2);
  });
  test('set like a first row 8 mm low, the board will bind: said at once', () => {
    expect(set((k) => (k < 3 ? -8 : undefined), { out: () => -60 }).board.state).toBe('binds');
  });
  test('law: set anywhere within their ranges after rows set as planned, the board is good', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 15, maxLength: 15 }),
        (offs) => {
          expect(set((k) => offs[k % 15]!, { width: 2400, out: () => -60 }).board.state).toBe('good');
        },
      ),
      { numRuns: 8, seed: 3 },
    );
  });
});

describe('a rigid board on its screws', () => {
  const anyRests = fc.array(
    fc.record({
      along: fc.integer({ min: 0, max: 1200 }),
      up: fc.integer({ min: 0, max: 2400 }),
      offMm: fc.double({ min: -5, max: 5, noNaN: true }),
    }),
    { minLength: 1, maxLength: 9 },
  );
  const middle = { along: 600, up: 1200 };
  test('law: stands behind no head, and touches one at least', () => {
    fc.assert(
      fc.property(anyRests, (rests) => {
        const plane = restBoard(rests, middle);
        const gaps = rests.map((rest) => offAt(plane, rest) - rest.offMm);
        expect(Math.min(...gaps)).toBeGreaterThan(-1e-6);
        expect(Math.min(...gaps)).toBeLessThan(1e-6);
      }),
      { numRuns: 100, seed: 6 },
    );
  });
  test('law: heads in one plane have no twist, whatever the plane', () => {
    const slope = fc.double({ min: -0.01, max: 0.01, noNaN: true });
    fc.assert(
      fc.property(anyRests, slope, slope, (spots, a, b) => {
        const rests = spots.map(({ along, up }): Rest => ({ along, up, offMm: 2 + a * along + b * up }));
        expect(measureTwist(rests)).toBeLessThan(1e-9);
      }),
      { numRuns: 60, seed: 7 },
    );
  });
  test('twist of a square of four heads with one 4 mm proud: each 1 mm off the best plane', () => {
    const corners = [
      { along: 0, up: 0, offMm: 4 },
      { along: 1000, up: 0, offMm: 0 },
      { along: 1000, up: 1000, offMm: 0 },
      { along: 0, up: 1000, offMm: 0 },
    ];
    expect(measureTwist(corners)).toBeCloseTo(1, 12);
    expect(measureTwist(corners.slice(1))).toBe(0);
  });
});
