import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { placeJoints, type BoardRun, type NoJoint } from '../../../src/core/lining/joints.ts';

const run = (to: number, more: Partial<BoardRun> = {}): BoardRun => ({
  from: 0,
  to,
  boardMm: 1200,
  minStripMm: 300,
  noJoint: [],
  prefer: 'balanced',
  ...more,
});
const keepOff = (at: number, clear = 100): NoJoint => ({ from: at - clear, to: at + clear, cost: 1 });
const widthsOf = (joints: readonly number[], to: number) =>
  [...joints, to].map((joint, i) => joint - (joints[i - 1] ?? 0));

/** Faults, then boards, then cut boards inside the run, then cuts: what a run is judged by, reckoned afresh. */
function judge({ to, boardMm, minStripMm, noJoint }: BoardRun, joints: readonly number[]): number {
  const widths = widthsOf(joints, to);
  const hits = joints.flatMap((joint) =>
    noJoint.filter((each) => joint > each.from + 1e-6 && joint < each.to - 1e-6),
  );
  const faults =
    hits.reduce((sum, each) => sum + each.cost, 0) + widths.filter((w) => w < minStripMm - 1e-6).length;
  const cut = widths.map((w) => w < boardMm - 1e-6);
  const inner = cut.slice(1, -1).filter(Boolean).length;
  return 1e6 * faults + 1e4 * widths.length + 100 * inner + cut.filter(Boolean).length;
}

/** The best judgement over every run of at most four boards with joints on a lattice. */
function searchRuns(of: BoardRun, latticeMm: number, joints: readonly number[] = []): number {
  const last = joints.at(-1) ?? 0;
  let best = of.to - last <= of.boardMm ? judge(of, joints) : Infinity;
  if (joints.length === 3) return best;
  for (let at = last + latticeMm; at <= last + of.boardMm && at < of.to; at += latticeMm)
    best = Math.min(best, searchRuns(of, latticeMm, [...joints, at]));
  return best;
}

describe('joints', () => {
  test('a run no longer than a board has none', () => {
    expect(placeJoints(run(1200))).toEqual([]);
    expect(placeJoints(run(250))).toEqual([]);
  });
  test('a rest that is wide enough stands at the right', () => {
    expect(placeJoints(run(1500))).toEqual([1200]);
  });
  test('start from the run, not from nought', () => {
    expect(placeJoints(run(5850, { from: 1000 }))).toEqual([1625, 2825, 4025, 5225]);
  });
  test('move off an opening corner, at the cost of a cut', () => {
    const noJoint = [keepOff(1250)];
    const joints = placeJoints(run(3600, { noJoint }));
    expect(judge(run(3600, { noJoint }), joints)).toBeLessThan(1e6);
    expect(joints).toHaveLength(3);
    expect(joints.every((joint) => Math.abs(joint - 1250) >= 100)).toBe(true);
  });
  test('may touch the end of a stretch kept clear', () => {
    expect(placeJoints(run(2400, { noJoint: [{ from: 1200, to: 1500, cost: 1 }] }))).toEqual([1200]);
  });
  test('where every place is bad, hit the cheapest', () => {
    const noJoint = [
      { from: -1, to: 2001, cost: 1 },
      { from: 700, to: 1300, cost: 10 },
    ];
    const joints = placeJoints(run(2000, { noJoint }));
    expect(joints.length).toBeGreaterThan(0);
    expect(joints.every((joint) => joint <= 700 || joint >= 1300)).toBe(true);
  });
  test('late puts the short piece last, early first, neither under the minimum', () => {
    expect(placeJoints(run(2433, { boardMm: 2400, prefer: 'late' }))).toEqual([2133]);
    expect(placeJoints(run(2433, { boardMm: 2400, prefer: 'early' }))).toEqual([300]);
    expect(placeJoints(run(2900, { boardMm: 2400, prefer: 'late' }))).toEqual([2400]);
  });
  test('are as good as the best of all runs of up to four boards on a 50 mm lattice', () => {
    const stretch = fc
      .record({
        at: fc.integer({ min: 0, max: 60 }),
        clear: fc.integer({ min: 1, max: 6 }),
        cost: fc.constantFrom(1, 10),
      })
      .map(({ at, clear, cost }): NoJoint => ({ from: 50 * (at - clear), to: 50 * (at + clear), cost }));
    const length = fc.integer({ min: 6, max: 62 }).map((n) => 50 * n);
    fc.assert(
      fc.property(length, fc.array(stretch, { maxLength: 4 }), (to, noJoint) => {
        const of = run(to, { noJoint });
        expect(judge(of, placeJoints(of))).toBeLessThanOrEqual(searchRuns(of, 50));
      }),
      { numRuns: 40, seed: 3 },
    );
  });
  test('leave no board wider than the stock', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 100, max: 12000 }),
        fc.constantFrom(600, 900, 1200, 1219.2),
        (to, boardMm) => {
          const widths = widthsOf(placeJoints(run(to, { boardMm, minStripMm: 300 })), to);
          expect(Math.max(...widths)).toBeLessThanOrEqual(boardMm + 1e-6);
          if (to >= 600) expect(Math.min(...widths)).toBeGreaterThanOrEqual(300 - 1e-6);
        },
      ),
      { numRuns: 200, seed: 3 },
    );
  });
});
