import { describe, expect, test } from 'vitest';
import { listBlunders } from '../../../src/core/camera/blunder.ts';
import { imageFromWall } from '../../../src/core/camera/camera.ts';
import { resectPhoto } from '../../../src/core/camera/resect.ts';
import { Refused } from '../../../src/core/refusal.ts';
import type { Solution } from '../../../src/core/results.ts';
import type { Mark, Photo, Survey } from '../../../src/core/survey.ts';
import { makeSurvey } from '../../truth/survey.ts';
import { solveRoughly } from '../../truth/solveRoughly.ts';

// a small wall and few points: each case is a solve
const made = makeSurvey(21, 'plaster', { width: 2400, height: 1800, everyPx: 8 });
const { survey } = made;
const lens = { k1: 0, sigma: 0.01 };
const changePhoto = (index: number, change: (photo: Photo) => Photo, from = survey): Survey => ({
  ...from,
  photos: from.photos.map((photo, k) => (k === index ? change(photo) : photo)),
});
const codesOf = ({ warnings }: Solution) =>
  warnings.map(({ code, subject }) => `${code} ${subject}`).filter((name) => /suspect|left_out/.test(name));
const refusalOf = (refused: Survey) => {
  try {
    solveRoughly(refused);
  } catch (thrown) {
    if (thrown instanceof Refused) return thrown.refusal;
    throw thrown;
  }
  return null;
};
const swap = (photo: Photo, first: number, second: number): Photo => {
  const at = (i: number, from: number): Mark => ({
    ...photo.marks[i]!,
    u: photo.marks[from]!.u,
    v: photo.marks[from]!.v,
  });
  const marks = photo.marks.map((mark, i) =>
    i === first ? at(first, second) : i === second ? at(second, first) : mark,
  );
  return { ...photo, marks };
};

describe('a photo that cannot take part is left out, and the rest is solved', () => {
  const nowhere = { off: null, up: null, along: null, sigma: 10 };
  const cases: [string, string, (photo: Photo) => Photo][] = [
    [
      'no height typed',
      'line_height_missing',
      (photo) => ({
        ...photo,
        lines: photo.lines.map((line) => ({ ...line, sheet: { ...line.sheet, at: null } })),
      }),
    ],
    ['one mark', 'marks_few', (photo) => ({ ...photo, marks: photo.marks.slice(0, 1), tapes: [] })],
    [
      'three of four marks left out by hand',
      'marks_few',
      (photo) => ({
        ...photo,
        marks: photo.marks.map((mark, i) => (i < 3 ? { ...mark, leftOut: true } : mark)),
      }),
    ],
    [
      'two marks at one place',
      'marks_at_one_place',
      (photo) => ({
        ...photo,
        marks: photo.marks.map((mark, i) => (i === 1 ? { ...photo.marks[0]!, along: mark.along } : mark)),
      }),
    ],
    [
      'a mark outside the picture',
      'mark_outside_picture',
      (photo) => ({
        ...photo,
        marks: photo.marks.map((mark, i) => (i === 1 ? { ...mark, u: -50 } : mark)),
      }),
    ],
    [
      'three marks and no stand',
      'stand_missing',
      (photo) => ({ ...photo, marks: photo.marks.slice(0, 3), tapes: [], stand: nowhere }),
    ],
    ['a picture never opened', 'photo_missing', (photo) => ({ ...photo, widthPx: undefined })],
  ];
  test.each(cases)('%s: warned, refused (%s) only where it is all there is', (_, code, spoil) => {
    const solution = solveRoughly(changePhoto(2, spoil));
    expect(codesOf(solution)).toEqual(['photo_left_out f3']);
    expect(solution.profiles.map(({ photo, s }) => `${photo} ${s.length > 0}`)).toContain('f3 false');
    expect(solution.profiles.filter(({ s }) => s.length > 0).length).toBe(7);
    const alone = { ...survey, photos: [spoil(survey.photos[2]!)] };
    expect(refusalOf({ ...alone, readings: [] })).toMatchObject({ code, photo: 'f3' });
    expect(codesOf(solveRoughly(alone))).toEqual(['photo_left_out f3']);
  });

  test('of two lines in a picture only the one without a height', () => {
    const solution = solveRoughly(
      changePhoto(2, (photo) => ({
        ...photo,
        lines: [...photo.lines, { ...photo.lines[0]!, id: 'x', sheet: { axis: 'level', at: null } }],
      })),
    );
    expect(codesOf(solution)).toEqual(['photo_left_out f3']);
    expect(solution.profiles.filter(({ photo }) => photo === 'f3').map(({ s }) => s.length > 0)).toEqual([
      true,
      false,
    ]);
  });
});

describe('evidence that contradicts itself has its own name', () => {
  test('two marks swapped in a photo are its marks, whichever two', () => {
    for (const [photo, first, second] of [
      [0, 0, 3],
      [1, 0, 1],
      [3, 1, 2],
      [6, 2, 3],
    ] as const) {
      const solution = solveRoughly(changePhoto(photo, (each) => swap(each, first, second)));
      // with both ends of the tape swapped the two marks left may be too weak
      expect(codesOf(solution).filter((code) => !code.startsWith('photo_left_out'))).toEqual([
        `marks_suspect f${photo + 1}`,
      ]);
      expect(codesOf(solution).every((code) => code.endsWith(` f${photo + 1}`))).toBe(true);
    }
  });
  test('a distance off the wall typed wrong by a metre is the stand', () => {
    const solution = solveRoughly(
      changePhoto(1, (photo) => ({ ...photo, stand: { ...photo.stand, off: photo.stand.off! + 1000 } })),
    );
    expect(codesOf(solution)).toEqual(['stand_suspect f2']);
    const off = solution.residuals.find(
      ({ kind, subject, part }) => kind === 'stand' && subject === 'f2' && part === 'off',
    );
    expect(off!.state).toBe('left_out');
    // by marks, lines and focal length alone the distance is known to some fifth at best
    expect(off!.errorMm).toBeGreaterThan(700);
    expect(off!.errorMm).toBeLessThan(1600);
  });
});

describe('what is left out by hand says nothing in a single photo either', () => {
  const photo = survey.photos[0]!;
  const wrong = {
    ...photo,
    marks: photo.marks.map((mark, i) => (i === 1 ? { ...mark, along: mark.along + 300 } : mark)),
  };
  const leftOut = {
    ...wrong,
    marks: wrong.marks.map((mark, i) => (i === 1 ? { ...mark, leftOut: true } : mark)),
  };
  const gone = { ...wrong, marks: wrong.marks.filter((_, i) => i !== 1) };
  const outMm = [-60, -61, -62, -63];
  const context = { markOutMm: outMm, markOutSigmaMm: 8 };

  test('the camera is as if the mark were not there, and marks keep their numbers', () => {
    const found = resectPhoto(leftOut, lens, context);
    const without = resectPhoto(gone, lens, { ...context, markOutMm: outMm.filter((_, i) => i !== 1) });
    expect(found.camera).toEqual(without.camera);
    expect(found.covariance).toEqual(without.covariance);
    expect(found.markRmsPx).toBe(without.markRmsPx);
    expect(found.markResiduals.filter((_, i) => i !== 1)).toEqual(without.markResiduals);
    expect(found.markResiduals[1]!.w).toBe(0);
    expect(Math.hypot(found.markResiduals[1]!.uPx, found.markResiduals[1]!.vPx)).toBeGreaterThan(100);
    expect(found.agrees).toBe(true);
    expect(listBlunders(leftOut, lens, context)).toEqual([]);
  });
  test('a second wrong mark is found by its own number', () => {
    const seen = [500, 1100, 1900].map((along): Mark => {
      const place = { along, up: 60, out: made.truth(along, 60) };
      return { ...imageFromWall(made.cameras[0]!, place), along, up: 60, sigma: 1 };
    });
    const marks = [...leftOut.marks, ...seen].map((mark, i) =>
      i === 5 ? { ...mark, along: mark.along - 100 } : mark,
    );
    const more = { ...leftOut, marks };
    const flat = { markOutMm: marks.map(() => -60), markOutSigmaMm: 8 };
    expect(resectPhoto(more, lens, flat).suspectMarks[0]).toBe(5);
    expect(listBlunders(more, lens, flat)[0]).toEqual({ kind: 'mark', mark: 5 });
  });
  test('a line left out does not choose between two places, nor does it stop the photo', () => {
    const [line] = photo.lines;
    const onSheet = { ...line!, id: 'x', sheet: { axis: 'level' as const, at: photo.stand.up } };
    expect(() => resectPhoto({ ...photo, lines: [onSheet] }, lens)).toThrow('stand_on_sheet');
    expect(() => resectPhoto({ ...photo, lines: [{ ...onSheet, leftOut: true }] }, lens)).not.toThrow();
  });
  test('and in the joint solve: a mark, a line, a photo', () => {
    const wrongly = changePhoto(0, () => leftOut);
    const solution = solveRoughly(wrongly);
    expect(codesOf(solution)).toEqual([]);
    expect(
      solution.residuals.some(
        ({ kind, subject, index }) => kind === 'mark' && subject === 'f1' && index === 1,
      ),
    ).toBe(false);
    const noLine = solveRoughly(
      changePhoto(1, (each) => ({ ...each, lines: each.lines.map((line) => ({ ...line, leftOut: true })) })),
    );
    const noPhoto = solveRoughly(changePhoto(1, (each) => ({ ...each, leftOut: true })));
    for (const { profiles, photos, warnings } of [noLine, noPhoto]) {
      expect(profiles.find(({ photo: id }) => id === 'f2')!.s.length).toBe(0);
      expect(photos.some(({ id }) => id === 'f2')).toBe(false);
      expect(warnings.filter(({ subject }) => subject === 'f2')).toEqual([]);
    }
    expect(noLine.surface.out).toEqual(noPhoto.surface.out);
  });
});
