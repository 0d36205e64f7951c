import { describe, expect, test } from 'vitest';
import { imageFromWall, type Camera } from '../../../src/core/camera/camera.ts';
import { groupPhotos, isStranger, listFellows, poolEvidence } from '../../../src/core/camera/fixedPhone.ts';
import { predictOffsetSigma } from '../../../src/core/camera/offsetSigma.ts';
import { resectPhoto } from '../../../src/core/camera/resect.ts';
import type { Solution } from '../../../src/core/results.ts';
import type { Photo, Survey } from '../../../src/core/survey.ts';
import { makeSurvey, type MadeSurvey, type SurveyOptions } from '../../truth/survey.ts';
import { solveRoughly } from '../../truth/solveRoughly.ts';

/** Three level lines by one unmoved phone, and three plumb lines from places of their own. */
const layout = { levels: [150, 400, 650], fixedPhone: true } as const satisfies SurveyOptions;
const unmarked = (photo: Photo): Photo => ({
  ...photo,
  marks: [],
  tapes: [],
  stand: { ...photo.stand, off: null, up: null, along: null },
});
const change = (survey: Survey, by: (photo: Photo, index: number) => Photo): Survey => ({
  ...survey,
  photos: survey.photos.map(by),
});
const codesOf = ({ warnings }: Solution) =>
  warnings
    .map(({ code, subject }) => `${code} ${subject}`)
    .filter((name) => /suspect|left_out|mixed|no_line/.test(name));
const errorsAlong = ({ profiles }: Solution, { truth }: MadeSurvey) =>
  profiles.flatMap(({ axis, atMm, s, out, sigma }) =>
    Array.from(s, (place, k) => ({
      error: out[k]! - (axis === 'level' ? truth(place, atMm) : truth(atMm, place)),
      sigma: sigma[k]!,
    })),
  );
const rms = (values: readonly number[]) =>
  Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);

describe('three lines by one phone that was not moved', () => {
  test('marks and stand in one picture place all three, and the wall comes out', () => {
    const made = makeSurvey(41, 'plaster', layout);
    const solution = solveRoughly(
      change(made.survey, (photo, k) => (k === 1 || k === 2 ? unmarked(photo) : photo)),
    );
    expect(codesOf(solution)).toEqual([]);
    const sizes = errorsAlong(solution, made).map(({ error }) => Math.abs(error));
    expect(sizes.sort((a, b) => a - b)[Math.floor(0.95 * sizes.length)]).toBeLessThan(1.8);
    const [one, two, three] = solution.photos;
    expect([one!.id, two!.id, three!.id]).toEqual(['f1', 'f2', 'f3']);
    expect([two, three].map((pose) => pose!.position)).toEqual([one!.position, one!.position]);
    expect(solution.profiles.every(({ s }) => s.length > 1000)).toBe(true);
  });

  test('their sigma covers the truth, and where marks are the limit it is less than apart, and rightly', () => {
    const weak: SurveyOptions = { ...layout, plumbs: [], markNoisePx: 3, everyPx: 4 };
    const kinds = ['plaster', 'bulged', 'leaning'] as const;
    const runs = [51, 52, 53, 54].flatMap((seed) => {
      const made = makeSurvey(seed, kinds[seed % 3]!, weak);
      const apart = change(made.survey, (photo) => ({ ...photo, station: undefined }));
      return [{ made, together: solveRoughly(made.survey), apart: solveRoughly(apart) }];
    });
    const pooled = runs.flatMap(({ made, together }) => errorsAlong(together, made));
    const single = runs.flatMap(({ made, apart }) => errorsAlong(apart, made));
    const within = pooled.filter(({ error, sigma }) => Math.abs(error) < 2 * sigma).length / pooled.length;
    expect(within).toBeGreaterThan(0.88);
    expect(within).toBeLessThan(0.999);
    expect(rms(pooled.map(({ sigma }) => sigma)) / rms(single.map(({ sigma }) => sigma))).toBeLessThan(0.95);
    expect(rms(pooled.map(({ error }) => error))).toBeLessThan(rms(single.map(({ error }) => error)));
    expect(runs.flatMap(({ together }) => codesOf(together))).toEqual([]);
  });

  test.each([
    ['knocked by 3 mrad', { turn: 0.003, shift: 0 }],
    ['set down again 60 mm further along', { turn: 0, shift: 60 }],
  ])('the last picture %s is named, and stands for itself', (_, { turn, shift }) => {
    const made = makeSurvey(43, 'plaster', layout);
    const camera = made.cameras[2]!;
    const [x, y, z] = camera.rotationRad;
    const moved: Camera = {
      ...camera,
      rotationRad: [x, y + turn, z],
      position: { ...camera.position, along: camera.position.along + shift },
    };
    const { truth } = made;
    const survey = change(made.survey, (photo, k) => {
      if (k !== 2) return photo;
      const marks = photo.marks.map((mark) => {
        const place = { along: mark.along, up: mark.up, out: truth(mark.along, mark.up) };
        const [was, is] = [imageFromWall(camera, place), imageFromWall(moved, place)];
        return { ...mark, u: mark.u + is.u - was.u, v: mark.v + is.v - was.v };
      });
      const [line] = photo.lines;
      const at = line!.sheet.at!;
      const points = line!.points.map((point, i) => {
        const along = (i / (line!.points.length - 1)) * 3600;
        return { ...point, ...imageFromWall(moved, { along, up: at, out: truth(along, at) }) };
      });
      return { ...photo, marks, lines: [{ ...line!, points }] };
    });
    const solution = solveRoughly(survey);
    expect(codesOf(solution)).toEqual(['marks_suspect f3']);
    expect(solution.photos[2]!.position).not.toEqual(solution.photos[0]!.position);
    const sizes = errorsAlong(solution, made).map(({ error }) => Math.abs(error));
    expect(sizes.sort((a, b) => a - b)[Math.floor(0.95 * sizes.length)]).toBeLessThan(1.8);
  });

  test('one wrong mark in one of them is that mark, not a moved phone', () => {
    const made = makeSurvey(44, 'plaster', layout);
    const solution = solveRoughly(
      change(made.survey, (photo, k) =>
        k === 1
          ? { ...photo, marks: photo.marks.map((m, i) => (i === 3 ? { ...m, along: m.along - 100 } : m)) }
          : photo,
      ),
    );
    expect(codesOf(solution)).toEqual(['marks_suspect f2']);
    expect(solution.photos[1]!.position).toEqual(solution.photos[0]!.position);
    const wrong = solution.residuals.filter(({ state, kind }) => state === 'left_out' && kind === 'mark');
    expect(new Set(wrong.map(({ subject, index }) => `${subject} ${index}`))).toEqual(new Set(['f2 3']));
  });

  test('a picture of another size, another phone or another focal length is no part of it, and that is said', () => {
    const made = makeSurvey(41, 'plaster', { ...layout, everyPx: 4 });
    const { photos } = made.survey;
    const odd = { ...photos[1]!, widthPx: 4000 };
    expect(groupPhotos([photos[0]!, odd, photos[2]!]).map((group) => group.map(({ id }) => id))).toEqual([
      ['f1', 'f3'],
      ['f2'],
    ]);
    for (const other of [odd, { ...photos[1]!, phone: 'p2' }, { ...photos[1]!, focal35Mm: 50 }]) {
      const survey = change(made.survey, (photo, k) => (k === 1 ? other : photo));
      expect(isStranger(survey.photos, other)).toBe(true);
      expect(listFellows(survey.photos, photos[0]!).map(({ id }) => id)).toEqual(['f3']);
    }
    const noted = change(made.survey, (photo, k) => (k === 1 ? { ...photo, focal35Mm: 50 } : photo));
    expect(codesOf(solveRoughly(noted))).toContain('station_mixed f2');
  });
});

describe('one of them by itself', () => {
  const { survey } = makeSurvey(45, 'plaster', { ...layout, everyPx: 8 });
  const bare = unmarked(survey.photos[1]!);
  const lens = { k1: 0, sigma: 0.01 };
  const fellows = listFellows(survey.photos, bare);

  test('is placed by the marks of the others', () => {
    expect(() => resectPhoto(bare, lens)).toThrow('marks_few');
    const placed = resectPhoto(poolEvidence(bare, fellows), lens);
    expect(placed.agrees).toBe(true);
    expect(placed.markResiduals.length).toBe(8);
    const own = resectPhoto(survey.photos[1]!, lens);
    expect(Math.abs(placed.camera.position.up - own.camera.position.up)).toBeLessThan(40);
  });
  test('two clicks on one graduation in two pictures are two measurements, in one picture a mistake', () => {
    const [first, second] = survey.photos;
    const twin = { ...first!, id: 'f9' };
    expect(resectPhoto(poolEvidence(first!, [twin]), lens).redundancy).toBeGreaterThan(
      resectPhoto(first!, lens).redundancy,
    );
    const twice = { ...second!, marks: [...second!.marks, second!.marks[0]!] };
    const context = { markOutMm: [] };
    expect(() => resectPhoto(poolEvidence(first!, [twice]), lens, context)).toThrow(
      expect.objectContaining({
        refusal: { code: 'marks_at_one_place', photo: 'f2', first: 0, second: 4 },
      }),
    );
  });
  test('its expected sigma is less with the others than alone', () => {
    const expected = (photo: Photo) =>
      predictOffsetSigma(resectPhoto(photo, lens), survey.photos[1]!.lines[0]!).aloneMm;
    expect(expected(poolEvidence(survey.photos[1]!, fellows))).toBeLessThan(
      0.95 * expected(survey.photos[1]!),
    );
  });
  test('without those left out by hand', () => {
    const left = survey.photos.map((photo, k) => (k === 2 ? { ...photo, leftOut: true } : photo));
    expect(listFellows(left, bare).map(({ id }) => id)).toEqual(['f1']);
  });
});
