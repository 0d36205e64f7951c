import { describe, expect, test } from 'vitest';
import type { Camera } from '../../../src/core/camera/camera.ts';
import { checkMarks, checkStand } from '../../../src/core/camera/evidenceCheck.ts';
import { checkLine, checkLineHeight } from '../../../src/core/camera/lineCheck.ts';
import { resectPhoto } from '../../../src/core/camera/resect.ts';
import { Refused, type Refusal } from '../../../src/core/refusal.ts';
import type { Photo } from '../../../src/core/survey.ts';
import { aimCamera, FOUR_PLACES, makePhoto, measureStand, takeLine, takeMarks } from './madePhoto.ts';

const LENS = { k1: 0, sigma: 0.01 };
const camera = aimCamera({ along: 900, up: 1900, out: 2600 }, { along: 1800, up: 1200 });
const marks = takeMarks(camera, FOUR_PLACES);
const photo = makePhoto(camera, { marks });

function refusalOf(refused: Photo): Refusal | null {
  try {
    resectPhoto(refused, LENS);
    return null;
  } catch (error) {
    if (error instanceof Refused) return error.refusal;
    throw error;
  }
}

/** The same refusal, asked early and met in the resection. */
function expectEarly(check: (photo: Photo) => Refusal | null, refused: Photo, refusal: Refusal): void {
  expect(check(refused)).toEqual(refusal);
  expect(refusalOf(refused)).toEqual(refusal);
}

test('the usual photo passes every check', () => {
  expect(checkMarks(photo)).toBeNull();
  expect(checkStand(photo)).toBeNull();
  expect(refusalOf({ ...photo, lines: [takeLine(camera, 'level', 1000)] })).toBeNull();
});

describe('marks', () => {
  test.each([0, 1])('marks_few: %i', (count) => {
    expectEarly(
      checkMarks,
      { ...photo, marks: marks.slice(0, count) },
      { code: 'marks_few', photo: 'f1', count },
    );
  });

  test('marks_at_one_place: one picture place with two names', () => {
    const twice = [...marks, { ...marks[1]!, along: 1234, u: marks[1]!.u + 2 }];
    const refusal: Refusal = { code: 'marks_at_one_place', photo: 'f1', first: 1, second: 4 };
    expectEarly(checkMarks, { ...photo, marks: twice }, refusal);
  });

  test('marks_at_one_place: one place on the wall in two places of the picture', () => {
    const twice = [...marks, { ...marks[2]!, u: marks[2]!.u + 300 }];
    const refusal: Refusal = { code: 'marks_at_one_place', photo: 'f1', first: 2, second: 4 };
    expectEarly(checkMarks, { ...photo, marks: twice }, refusal);
  });

  test('graduations 10 mm apart, placed to 0.2 px, are places of their own', () => {
    const close = takeMarks(camera, [...FOUR_PLACES, { along: 610, up: 500 }], { sigmaPx: 0.2 });
    expect(checkMarks({ ...photo, marks: close })).toBeNull();
  });

  test.each([
    ['left of it', { u: -3 }],
    ['below it', { v: 3005 }],
    ['nowhere', { u: NaN }],
  ])('mark_outside_picture: %s', (_, place) => {
    const moved = marks.map((mark, i) => (i === 2 ? { ...mark, ...place } : mark));
    expectEarly(
      checkMarks,
      { ...photo, marks: moved },
      { code: 'mark_outside_picture', photo: 'f1', mark: 2 },
    );
  });
});

describe('stand', () => {
  const nothing = measureStand(camera, []);

  test('stand_missing: three marks and nothing measured', () => {
    const refused = { ...photo, marks: marks.slice(0, 3), stand: nothing };
    expectEarly(checkStand, refused, { code: 'stand_missing', photo: 'f1' });
  });

  test('stand_missing: four marks along one tape and nothing measured', () => {
    const along = [500, 1300, 2100, 2900].map((place) => ({ along: place, up: 700 }));
    const refused = { ...photo, marks: takeMarks(camera, along), stand: nothing };
    expect(checkStand(refused)).toBeNull();
    expect(refusalOf(refused)).toEqual({ code: 'stand_missing', photo: 'f1' });
  });

  test('four marks along one tape give the height themselves once distance and place along are measured', () => {
    const along = [500, 1300, 2100, 2900].map((place) => ({ along: place, up: 700 }));
    const stand = measureStand(camera, ['off', 'along']);
    const lines = [takeLine(camera, 'level', 1000)];
    expect(refusalOf({ ...photo, marks: takeMarks(camera, along), stand, lines })).toBeNull();
  });

  test('stand_weak: two marks at one height, the distance measured but not the height', () => {
    const two = takeMarks(camera, FOUR_PLACES.slice(0, 2));
    const lines = [takeLine(camera, 'level', 1000)];
    const refusal = refusalOf({ ...photo, marks: two, stand: measureStand(camera, ['off', 'along']), lines });
    expect(refusal).toMatchObject({ code: 'stand_weak', photo: 'f1' });
    expect((refusal as { offsetSigmaMm: number }).offsetSigmaMm).toBeGreaterThan(3);
  });

  test('stand_weak with its number: two marks close together, stand to 300 mm', () => {
    const close = takeMarks(camera, [
      { along: 1700, up: 1000 },
      { along: 1950, up: 1000 },
    ]);
    const stand = { ...measureStand(camera, ['off', 'up', 'along']), sigma: 300 };
    const lines = [takeLine(camera, 'level', 1100)];
    const refusal = refusalOf({ ...photo, marks: close, stand, lines });
    expect(refusal).toMatchObject({ code: 'stand_weak', photo: 'f1' });
    const { offsetSigmaMm } = refusal as { offsetSigmaMm: number };
    expect(offsetSigmaMm).toBeGreaterThan(3);
    expect(offsetSigmaMm).toBeLessThan(100);
  });
});

describe('lines', () => {
  const resection = resectPhoto(photo, LENS);

  test('stand_on_sheet: a level line at the height of the phone', () => {
    const line = takeLine(camera, 'level', 1880);
    const refusal = { code: 'stand_on_sheet', photo: 'f1', line: 'level1880' };
    expect(checkLine(photo, line, resection)).toMatchObject(refusal);
    expect(refusalOf({ ...photo, lines: [line] })).toMatchObject(refusal);
  });

  test('stand_on_sheet: a plumb line straight ahead', () => {
    const line = takeLine(camera, 'plumb', 950);
    const refusal = checkLine(photo, line, resection);
    expect(refusal).toMatchObject({ code: 'stand_on_sheet', photo: 'f1', line: 'plumb950' });
    expect((refusal as { asideMm: number }).asideMm).toBeCloseTo(camera.position.along - 950, -1);
  });

  test('one usable line is enough for the photo', () => {
    const lines = [takeLine(camera, 'plumb', 950), takeLine(camera, 'level', 1000)];
    expect(refusalOf({ ...photo, lines })).toBeNull();
  });

  test('line_height_missing is of the line, and does not stop the resection', () => {
    const line = takeLine(camera, 'level', 1000);
    const untyped = { ...line, sheet: { axis: 'level' as const, at: null } };
    const refusal = { code: 'line_height_missing', photo: 'f1', line: 'level1000' };
    expect(checkLineHeight(photo, untyped)).toEqual(refusal);
    expect(checkLine(photo, untyped, resection)).toEqual(refusal);
    expect(checkLineHeight(photo, line)).toBeNull();
    expect(refusalOf({ ...photo, lines: [untyped] })).toBeNull();
  });

  test('a line that the picture does not show is not called weak', () => {
    const low: Camera = { ...camera, rotationRad: [-0.3, 0, 0] };
    const unseen = takeLine(low, 'level', 100);
    expect(unseen.points).toHaveLength(0);
    expect(
      checkLine(
        photo,
        unseen,
        resectPhoto(
          makePhoto(low, {
            marks: takeMarks(low, [
              { along: 300, up: 2000 },
              { along: 1500, up: 2300 },
              { along: 1600, up: 1900 },
            ]),
          }),
          LENS,
        ),
      ),
    ).toBeNull();
  });
});
