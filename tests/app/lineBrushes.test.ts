import fc from 'fast-check';
import { expect, test } from 'vitest';
import { removeGap } from '../../src/app/editGaps.ts';
import { HAND_SIGMA_PX } from '../../src/app/editPoints.ts';
import { deletePoint, erasePoints, liesUnder } from '../../src/app/erasePoints.ts';
import { recordStep, startHistory, undoStep } from '../../src/app/history.ts';
import { makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import { LEAST_PUSH_PX, pushPoints, shareOfPush, type Push } from '../../src/app/pushPoints.ts';
import { joinByHand } from '../../src/core/line/byHand.ts';
import type { Gap, LineAxis, LinePoint, PointState, Survey } from '../../src/core/survey.ts';

function surveyOf(points: readonly LinePoint[], axis: LineAxis = 'level', gaps: readonly Gap[] = []): Survey {
  const base = makeSurvey('Wall', 3600, 2450, 'mm');
  const facts = { widthPx: 400, heightPx: 300, focal35Mm: null };
  const photo = makePhoto(base, 'photos/a.jpg', facts, { axis, colour: 'green' });
  return { ...base, photos: [{ ...photo, lines: [{ ...photo.lines[0]!, points, gaps }] }] };
}
const lineOf = (survey: Survey) => survey.photos[0]!.lines[0]!;
const found = (u: number, v = 100): LinePoint => ({ u, v, sigma: 0.1, state: 'found' });
const hundred = Array.from({ length: 100 }, (_, i) => found(i + 1));

/** A line of either axis, told in either direction, of points in any state. */
const anyLine = fc
  .record({
    axis: fc.constantFrom<LineAxis>('level', 'plumb'),
    falling: fc.boolean(),
    points: fc.array(
      fc.record({
        along: fc.double({ min: 0, max: 300, noNaN: true }),
        across: fc.double({ min: 0, max: 300, noNaN: true }),
        sigma: fc.double({ min: 0.05, max: 2, noNaN: true }),
        state: fc.constantFrom<PointState>('found', 'moved', 'added', 'suspect', 'off'),
      }),
      { maxLength: 60 },
    ),
  })
  .map(({ axis, falling, points }) => {
    const sign = falling ? -1 : 1;
    const sorted = [...points].sort((a, b) => sign * (a.along - b.along));
    const placed = sorted.map(({ along, across, sigma, state }): LinePoint => {
      return axis === 'level' ? { u: along, v: across, sigma, state } : { u: across, v: along, sigma, state };
    });
    return { survey: surveyOf(placed, axis), run: axis === 'level' ? ('u' as const) : ('v' as const) };
  });
const anyPush = fc.record({
  atPx: fc.double({ min: 0, max: 300, noNaN: true }),
  reachPx: fc.double({ min: 1, max: 200, noNaN: true }),
  byPx: fc.double({ min: -40, max: 40, noNaN: true }),
});
const push = (survey: Survey, by: Push) => pushPoints(survey, 'f1', 'l1', by);

test('a push is full where the line is pressed and fades to nothing at its reach', () => {
  const pushed = lineOf(push(surveyOf(hundred), { atPx: 50, reachPx: 20, byPx: 3 })).points;
  expect(pushed[49]).toEqual({ u: 50, v: 103, sigma: HAND_SIGMA_PX, state: 'moved' });
  expect(pushed[39]!.v).toBeCloseTo(101.5, 12);
  expect(pushed[59]!.v).toBeCloseTo(101.5, 12);
  expect(pushed[29]).toBe(hundred[29]);
  expect(pushed.filter(({ state }) => state === 'moved').map(({ u }) => u)).toEqual(
    hundred.map(({ u }) => u).filter((u) => 3 * shareOfPush(u - 50, 20) >= LEAST_PUSH_PX),
  );
});

test('a push keeps the order, leaves all beyond its reach and all left out as they are, and runs across only', () => {
  fc.assert(
    fc.property(anyLine, anyPush, ({ survey, run }, by) => {
      const before = lineOf(survey).points;
      const after = lineOf(push(survey, by)).points;
      const across = run === 'u' ? 'v' : 'u';
      after.forEach((point, i) => {
        const from = before[i]!;
        expect(point[run]).toBe(from[run]);
        if (from.state === 'off' || Math.abs(from[run] - by.atPx) >= by.reachPx) expect(point).toBe(from);
        if (point === from) return;
        expect(Math.abs(point[across] - from[across])).toBeLessThanOrEqual(Math.abs(by.byPx) + 1e-9);
        expect(point).toMatchObject({
          sigma: HAND_SIGMA_PX,
          state: from.state === 'added' ? 'added' : 'moved',
        });
      });
    }),
    { seed: 61, numRuns: 200 },
  );
});

test('a push of nothing is no step; one pushed back restores the line; a push is one step of undo', () => {
  fc.assert(
    fc.property(anyLine, anyPush, ({ survey }, by) => {
      expect(push(survey, { ...by, byPx: 0 })).toBe(survey);
      const pushed = push(survey, by);
      const back = lineOf(push(pushed, { ...by, byPx: -by.byPx })).points;
      lineOf(survey).points.forEach(({ u, v }, i) => {
        expect(Math.abs(back[i]!.u - u)).toBeLessThan(1e-9);
        expect(Math.abs(back[i]!.v - v)).toBeLessThan(1e-9);
      });
      const history = recordStep(startHistory(survey), pushed);
      expect(history.past.length).toBe(pushed === survey ? 0 : 1);
      expect(undoStep(history).present).toBe(survey);
    }),
    { seed: 62, numRuns: 200 },
  );
});

const anyPath = fc.array(
  fc.record({
    u: fc.double({ min: 0, max: 300, noNaN: true }),
    v: fc.double({ min: 0, max: 300, noNaN: true }),
  }),
  { minLength: 1, maxLength: 6 },
);

test('erasing takes what lies under the disc and nothing else, in one step, and leaves no point in use in a gap', () => {
  fc.assert(
    fc.property(
      anyLine,
      anyPath,
      fc.double({ min: 1, max: 60, noNaN: true }),
      ({ survey, run }, path, radiusPx) => {
        const erased = erasePoints(survey, 'f1', 'l1', path, radiusPx);
        const { points, gaps } = lineOf(erased);
        const left = lineOf(survey).points.filter((point) => !liesUnder(path, radiusPx, point));
        expect(points).toEqual(left);
        points.forEach((point, i) => expect(point).toBe(left[i]));
        if (left.length === lineOf(survey).points.length) expect(erased).toBe(survey);
        gaps.forEach((gap, i) => {
          expect(gap.from).toBeLessThan(gap.to);
          if (i > 0) expect(gap.from).toBeGreaterThanOrEqual(gaps[i - 1]!.to);
          expect(points.filter((point) => gap.from < point[run] && point[run] < gap.to)).toEqual([]);
        });
        const history = recordStep(startHistory(survey), erased);
        expect(history.past.length).toBe(erased === survey ? 0 : 1);
        expect(undoStep(history).present).toBe(survey);
      },
    ),
    { seed: 63, numRuns: 200 },
  );
});

test('a disc reaches the same points however finely its path is told', () => {
  const path = [
    { u: 20, v: 90 },
    { u: 60, v: 110 },
  ];
  const fine = Array.from({ length: 401 }, (_, i) => ({ u: 20 + i / 10, v: 90 + i / 20 }));
  for (const point of hundred) {
    const nearest = Math.min(...fine.map(({ u, v }) => Math.hypot(u - point.u, v - point.v)));
    if (Math.abs(nearest - 6) > 0.05) expect(liesUnder(path, 6, point), String(point.u)).toBe(nearest < 6);
  }
});

test('what was erased stays away when the line is looked for again, until its gap is taken away', () => {
  const erased = erasePoints(surveyOf(hundred), 'f1', 'l1', [{ u: 40, v: 100 }], 4.2);
  const twice = deletePoint(erased, 'f1', 'l1', 10);
  expect(lineOf(twice).gaps).toEqual([
    { from: 10.5, to: 11.5, byHand: true },
    { from: 35.5, to: 44.5, byHand: true },
  ]);
  const again = (survey: Survey) => {
    const line = lineOf(survey);
    return joinByHand(line.points, hundred, 'level', line.gaps);
  };
  const gone = [11, 36, 37, 38, 39, 40, 41, 42, 43, 44];
  expect(again(twice).points.map(({ u }) => u)).toEqual(
    hundred.map(({ u }) => u).filter((u) => !gone.includes(u)),
  );
  expect(again(twice).gaps).toEqual(lineOf(twice).gaps);
  expect(again(removeGap(twice, 'f1', 'l1', 1)).points.length).toBe(99);
});

test('neighbours erased one after the other are one gap, and a gap the finder left stays its own', () => {
  const before = surveyOf(
    hundred.filter(({ u }) => u < 50 || u > 60),
    'level',
    [{ from: 50, to: 60 }],
  );
  const first = deletePoint(before, 'f1', 'l1', 47);
  expect(lineOf(deletePoint(first, 'f1', 'l1', 47)).gaps).toEqual([
    { from: 47.5, to: 52, byHand: true },
    { from: 52, to: 60 },
  ]);
});

test('points pushed by hand stay when the line is looked for again', () => {
  const pushed = lineOf(push(surveyOf(hundred), { atPx: 50, reachPx: 20, byPx: 3 })).points;
  const again = joinByHand(pushed, hundred, 'level').points;
  expect(again.map(({ u, v }) => [u, v])).toEqual(pushed.map(({ u, v }) => [u, v]));
});
