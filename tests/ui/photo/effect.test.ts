import { expect, test } from 'vitest';
import { leaveOutPoints, acceptSuspects, movePoint } from '../../../src/app/editPoints.ts';
import { erasePoints } from '../../../src/app/erasePoints.ts';
import { pushPoints, shareOfPush } from '../../../src/app/pushPoints.ts';
import { wallFromImageOnSheet } from '../../../src/core/camera/camera.ts';
import { resectPhoto } from '../../../src/core/camera/resect.ts';
import type { LinePoint, Survey } from '../../../src/core/survey.ts';
import { weighChange, weighPlace } from '../../../src/ui/photo/effect.ts';
import { changeWords, effectWords, pushWords, turnWords } from '../../../src/ui/photo/effectWords.ts';
import { makeSurvey } from '../../truth/survey.ts';

const made = makeSurvey(71, 'plaster', { levels: [750], plumbs: [], everyPx: 6 }).survey;
const photo = made.photos[0]!;
const first = photo.lines[0]!;
const { camera } = resectPhoto(photo, { k1: 0, sigma: 0.01 });
const sheet = { axis: first.sheet.axis, at: first.sheet.at! };
const outOf = (point: LinePoint) => wallFromImageOnSheet(camera, point, sheet).out;
const points = first.points.map((point, i): LinePoint => {
  return { u: point.u, v: point.v, sigma: 0.2, state: i >= 300 && i < 303 ? 'suspect' : 'found' };
});
const survey: Survey = { ...made, photos: [{ ...photo, lines: [{ ...first, points }] }] };
const lineOf = (of: Survey) => of.photos[0]!.lines[0]!;
const [photoId, lineId] = [photo.id, first.id];
const weigh = (after: Survey) => weighChange(camera, lineOf(survey), lineOf(after));

test('a point moved tells its offset before and after, as its rays through the light sheet have it', () => {
  const to = { u: points[100]!.u, v: points[100]!.v - 1.5 };
  const effect = weigh(movePoint(survey, photoId, lineId, 100, to))!;
  expect(effect).toMatchObject({ moved: 1, before: points.length, after: points.length });
  expect(effect.single!.from).toBeCloseTo(outOf(points[100]!), 9);
  expect(effect.single!.to).toBeCloseTo(outOf({ ...points[100]!, ...to }), 9);
});

test('a push tells its length, and a mean and a largest change that a plain sum over its points bears out', () => {
  const push = { atPx: points[200]!.u, reachPx: 200, byPx: 2 };
  const after = pushPoints(survey, photoId, lineId, push);
  const effect = weigh(after)!;
  const changes = lineOf(after).points.map((point, i) => outOf(point) - outOf(points[i]!));
  const largest = changes.reduce((most, mm) => (Math.abs(mm) > Math.abs(most) ? mm : most), 0);
  // smoothed at the top of the push; and points pushed out lie elsewhere along the wall, where it is another mm off
  expect(effect.largestMm / largest).toBeGreaterThan(0.95);
  expect(effect.largestMm / largest).toBeLessThan(1.05);
  expect(effect.meanMm / largest).toBeGreaterThan(0.4);
  expect(effect.meanMm / largest).toBeLessThan(0.6);
  const moved = lineOf(after).points.filter(({ state }) => state === 'moved');
  expect(effect.moved).toBe(moved.length);
  expect(moved.length).toBe(points.filter(({ u }) => 2 * shareOfPush(u - push.atPx, 200) >= 0.02).length);
  expect(weighPlace(camera, lineOf(survey), lineOf(after), push.atPx)).toEqual({
    from: outOf(points[200]!),
    to: outOf(lineOf(after).points[200]!),
  });
});

test('points erased or left out no longer count; a stretch longer than the smoothing has no profile', () => {
  const path = [points[150]!, points[190]!];
  const effect = weigh(erasePoints(survey, photoId, lineId, path, 3))!;
  expect(effect.before - effect.after).toBe(41);
  const s = (i: number) => wallFromImageOnSheet(camera, points[i]!, sheet).along;
  expect(effect.lengthMm).toBeCloseTo(s(190) - s(150), 6);
  expect(effect.lostMm).toBeGreaterThan(effect.lengthMm - 40);
  expect(effect.lostMm).toBeLessThan(effect.lengthMm);
  const left = weigh(leaveOutPoints(survey, photoId, lineId, 150, 150))!;
  expect(left).toMatchObject({ lostMm: 0, moved: 0 });
  expect(left.before - left.after).toBe(1);
});

test('suspects taken as right change the weight of the profile there and move nothing', () => {
  const effect = weigh(acceptSuspects(survey, photoId, lineId, 300, 302))!;
  expect(effect).toMatchObject({ moved: 0, single: null, lostMm: 0, gainedMm: 0 });
  expect(Math.abs(effect.largestMm)).toBeGreaterThan(0);
  expect(weigh(survey)).toBeNull();
});

test('the words say which way, how much and over which length', () => {
  expect(changeWords(-0.126)).toBe('0.13 mm further back');
  expect(changeWords(0.001)).toBe('unchanged');
  expect(turnWords(0.2, -1.31)).toBe('0.2 mm in front of → 1.3 mm behind the plane');
  expect(pushWords([0.1, 0.5, 0.9, 0.5], 190.4)).toBe(
    'Push: 0.5 mm further out on the mean, 0.9 mm at most, over 190 mm.',
  );
  expect(pushWords([], 0)).toBe('Push: nothing moves yet.');
  const none = { moved: 0, single: null, lengthMm: 39.7, meanMm: 0, largestMm: 0, lostMm: 0, gainedMm: 0 };
  expect(effectWords({ ...none, before: 9, after: 4, lostMm: 22 }, () => 0)).toBe(
    '5 points over 40 mm no longer count; 22 mm show no profile now; the profile there stays.',
  );
  expect(effectWords({ ...none, before: 4, after: 5, largestMm: -0.3, lengthMm: 0 }, () => 0)).toBe(
    '1 point more counts now; the profile there moves 0.3 mm at most.',
  );
  expect(
    effectWords({ ...none, before: 9, after: 9, moved: 1, single: { s: 5, from: -0.8, to: -1.3 } }, () => 0),
  ).toBe('This point: 0.8 mm → 1.3 mm behind the plane.');
});
