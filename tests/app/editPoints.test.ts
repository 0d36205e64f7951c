import fc from 'fast-check';
import { expect, test } from 'vitest';
import { markGap, removeGap } from '../../src/app/editGaps.ts';
import {
  acceptSuspects,
  addPoint,
  HAND_SIGMA_PX,
  leaveOutPoints,
  movePoint,
  restorePoint,
} from '../../src/app/editPoints.ts';
import { deletePoint } from '../../src/app/erasePoints.ts';
import { makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import type { Gap, LineAxis, LinePoint, Survey } from '../../src/core/survey.ts';

const facts = { widthPx: 400, heightPx: 300, focal35Mm: null };
const found = (u: number, v: number): LinePoint => ({ u, v, sigma: 0.1, state: 'found' });

function surveyOf(points: readonly LinePoint[], gaps: readonly Gap[] = [], axis: LineAxis = 'level'): Survey {
  const base = makeSurvey('Wall', 3600, 2450, 'mm');
  const photo = makePhoto(base, 'photos/a.jpg', facts, { axis, colour: 'green' });
  const other = makePhoto({ ...base, photos: [photo] }, 'photos/b.jpg', facts, { axis, colour: 'red' });
  const lines = [{ ...photo.lines[0]!, points, gaps }];
  return { ...base, photos: [{ ...photo, lines }, other] };
}
const lineOf = (survey: Survey) => survey.photos[0]!.lines[0]!;
const five = [10, 20, 30, 40, 50].map((u) => found(u, 100));

test('a moved point says so, takes the sigma of a hand, and leaves the survey before as it was', () => {
  const before = surveyOf(five);
  const kept = structuredClone(before);
  const after = movePoint(before, 'f1', 'l1', 2, { u: 31, v: 97.25 });
  expect(lineOf(after).points[2]).toEqual({ u: 31, v: 97.25, sigma: HAND_SIGMA_PX, state: 'moved' });
  expect(before).toEqual(kept);
  expect(after.photos[1]).toBe(before.photos[1]);
  expect(lineOf(after).points[0]).toBe(lineOf(before).points[0]);
});

test('a point moved past its neighbours goes where it belongs', () => {
  const after = movePoint(surveyOf(five), 'f1', 'l1', 0, { u: 35, v: 99 });
  expect(lineOf(after).points.map((point) => point.u)).toEqual([20, 30, 35, 40, 50]);
});

test('an added point that is moved stays added', () => {
  const added = addPoint(surveyOf(five), 'f1', 'l1', { u: 25, v: 98 });
  expect(lineOf(added).points[2]).toEqual({ u: 25, v: 98, sigma: HAND_SIGMA_PX, state: 'added' });
  expect(lineOf(movePoint(added, 'f1', 'l1', 2, { u: 26, v: 98 })).points[2]!.state).toBe('added');
});

test('points of an upright line told from the floor up stay in that order', () => {
  const falling = [250, 200, 150].map((v) => found(60, v));
  const after = addPoint(surveyOf(falling, [], 'plumb'), 'f1', 'l1', { u: 61, v: 180 });
  expect(lineOf(after).points.map((point) => point.v)).toEqual([250, 200, 180, 150]);
});

test('left out and used again: the finder’s point is found, the hand’s is moved', () => {
  const moved = movePoint(surveyOf(five), 'f1', 'l1', 1, { u: 20, v: 95 });
  const off = leaveOutPoints(leaveOutPoints(moved, 'f1', 'l1', 1, 1), 'f1', 'l1', 3, 3);
  expect(lineOf(off).points.map((point) => point.state)).toEqual(['found', 'off', 'found', 'off', 'found']);
  const back = restorePoint(restorePoint(off, 'f1', 'l1', 1), 'f1', 'l1', 3);
  expect(lineOf(back).points).toEqual(lineOf(moved).points);
});

test('suspects are taken as right; what is no suspect stays, and the survey with it', () => {
  const suspects = [60, 61, 63].map((u): LinePoint => ({ ...found(u, 90), state: 'suspect' }));
  const before = surveyOf([...five, ...suspects]);
  const states = lineOf(acceptSuspects(before, 'f1', 'l1', 4, 6)).points.map((point) => point.state);
  expect(states).toEqual(['found', 'found', 'found', 'found', 'found', 'found', 'found', 'suspect']);
  expect(acceptSuspects(before, 'f1', 'l1', 0, 4)).toBe(before);
  expect(restorePoint(before, 'f1', 'l1', 0)).toBe(before);
  expect(() => acceptSuspects(before, 'f1', 'l1', 6, 8)).toThrow('expected an index below 8, got 8');
});

test('a gap leaves its points out, joins those it overlaps, and gives the points back', () => {
  const before = surveyOf(five, [{ from: 44, to: 60 }]);
  const marked = markGap(before, 'f1', 'l1', 45, 28);
  expect(lineOf(marked).gaps).toEqual([{ from: 28, to: 60, byHand: true }]);
  expect(lineOf(marked).points.map((point) => point.state)).toEqual(['found', 'found', 'off', 'off', 'off']);
  const back = removeGap(marked, 'f1', 'l1', 0);
  expect(lineOf(back).points).toEqual(five);
  expect(lineOf(back).gaps).toEqual([]);
  expect(markGap(before, 'f1', 'l1', 30, 30)).toBe(before);
  expect(markGap(marked, 'f1', 'l1', 31, 42)).toBe(marked);
});

test('a point set in a gap cuts it', () => {
  const after = addPoint(surveyOf(five, [{ from: 22, to: 28 }]), 'f1', 'l1', { u: 25, v: 100 });
  expect(lineOf(after).gaps).toEqual([
    { from: 22, to: 25 },
    { from: 25, to: 28 },
  ]);
});

test('a point, line or photo that is not there is a bug and says so', () => {
  const survey = surveyOf(five);
  expect(() => deletePoint(survey, 'f1', 'l1', 5)).toThrow('expected an index below 5, got 5');
  expect(() => deletePoint(survey, 'f1', 'l9', 0)).toThrow('got l9');
  expect(() => deletePoint(survey, 'f9', 'l1', 0)).toThrow('got f9');
});

const edit = fc.record({
  kind: fc.constantFrom('move', 'add', 'delete', 'leave', 'restore', 'gap', 'ungap'),
  pick: fc.nat(1000),
  u: fc.integer({ min: 0, max: 200 }),
  width: fc.integer({ min: 1, max: 40 }),
});
type Edit = typeof edit extends fc.Arbitrary<infer T> ? T : never;

function apply(survey: Survey, { kind, pick, u, width }: Edit): Survey {
  const { points, gaps } = lineOf(survey);
  const at = { u, v: u / 7 };
  if (kind === 'add') return addPoint(survey, 'f1', 'l1', at);
  if (kind === 'gap') return markGap(survey, 'f1', 'l1', u, u + width);
  if (kind === 'ungap') return gaps.length ? removeGap(survey, 'f1', 'l1', pick % gaps.length) : survey;
  if (points.length === 0) return survey;
  const index = pick % points.length;
  if (kind === 'move') return movePoint(survey, 'f1', 'l1', index, at);
  if (kind === 'delete') return deletePoint(survey, 'f1', 'l1', index);
  if (kind === 'restore') return restorePoint(survey, 'f1', 'l1', index);
  return leaveOutPoints(survey, 'f1', 'l1', index, Math.min(points.length - 1, index + width));
}

test('after any edits the points are in order, no gap overlaps another, and none holds a point in use', () => {
  fc.assert(
    fc.property(fc.array(edit, { maxLength: 60 }), (edits) => {
      let survey = surveyOf(five);
      for (const each of edits) survey = apply(survey, each);
      const { points, gaps } = lineOf(survey);
      for (let i = 1; i < points.length; i++) expect(points[i]!.u).toBeGreaterThanOrEqual(points[i - 1]!.u);
      gaps.forEach((gap, i) => {
        expect(gap.from).toBeLessThan(gap.to);
        if (i > 0) expect(gap.from).toBeGreaterThanOrEqual(gaps[i - 1]!.to);
        const inside = points.filter(({ u, state }) => state !== 'off' && gap.from < u && u < gap.to);
        expect(inside).toEqual([]);
      });
      expect(survey.photos.length).toBe(2);
    }),
    { seed: 11, numRuns: 300 },
  );
});

test('a random walk of moves, additions and deletions agrees with a plain list of places', () => {
  const walk = edit.filter(({ kind }) => kind === 'move' || kind === 'add' || kind === 'delete');
  fc.assert(
    fc.property(fc.array(walk, { maxLength: 60 }), (edits) => {
      let survey = surveyOf(five);
      let plain = five.map((point) => point.u);
      for (const each of edits) {
        survey = apply(survey, each);
        if (each.kind !== 'add' && plain.length > 0) plain.splice(each.pick % plain.length, 1);
        else if (each.kind !== 'add') continue;
        if (each.kind !== 'delete') plain = [...plain, each.u].sort((a, b) => a - b);
        expect(lineOf(survey).points.map((point) => point.u)).toEqual(plain);
      }
    }),
    { seed: 12, numRuns: 300 },
  );
});

test('an edit shares all that it did not change, so undo keeps whole values cheaply', () => {
  fc.assert(
    fc.property(fc.array(edit, { minLength: 1, maxLength: 20 }), (edits) => {
      const values = [surveyOf(five)];
      for (const each of edits) values.push(apply(values[values.length - 1]!, each));
      const kept = values.map((value) => JSON.stringify(value));
      for (const each of edits) apply(values[values.length - 1]!, each);
      expect(values.map((value) => JSON.stringify(value))).toEqual(kept);
      for (const value of values) expect(value.photos[1]).toBe(values[0]!.photos[1]);
    }),
    { seed: 13, numRuns: 50 },
  );
});
