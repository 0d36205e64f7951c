import { expect, test } from 'vitest';
import { imageFromWall } from '../../../src/core/camera/camera.ts';
import { resectPhoto } from '../../../src/core/camera/resect.ts';
import { listBlunders } from '../../../src/core/camera/blunder.ts';
import { solveSurvey } from '../../../src/core/solve/solve.ts';
import type { Photo, Survey, Tape, TapeReading } from '../../../src/core/survey.ts';
import { listTapeMarks, withTapeMarks } from '../../../src/core/tape/tapeMarks.ts';
import { seedRandom } from '../../truth/random.ts';
import { makeSurvey, type MadeSurvey } from '../../truth/survey.ts';

/** The reading of a photo's first tape, every graduation seen with a noise of `sigma` px, and moved along by `shiftMm`. */
function readTruly(made: MadeSurvey, index: number, sigma: number, shiftMm = 0): TapeReading {
  const { marks, tapes } = made.survey.photos[index]!;
  const tape = tapes[0]!;
  const [first, last] = [marks[tape.from]!, marks[tape.to]!];
  const random = seedRandom(100 + index);
  const graduations = [];
  for (let at = first[tape.axis]; at <= last[tape.axis]; at += 10) {
    const place =
      tape.axis === 'along'
        ? { along: at + shiftMm, up: first.up }
        : { along: first.along, up: at + shiftMm };
    const image = imageFromWall(made.cameras[index]!, { ...place, out: made.truth(place.along, place.up) });
    graduations.push({
      at,
      u: image.u + sigma * random.normal(),
      v: image.v + sigma * random.normal(),
      sigma,
    });
  }
  const count = graduations.length;
  return { legible: true, graduations, rmsPx: sigma, agree: count, of: count, misnamedMm: 0 };
}

function withReadings(made: MadeSurvey, change: (read: TapeReading) => TapeReading = (read) => read): Survey {
  const photos = made.survey.photos.map((photo, index): Photo => {
    const tapes = photo.tapes.map((tape): Tape => ({ ...tape, read: change(readTruly(made, index, 0.1)) }));
    return { ...photo, tapes };
  });
  return { ...made.survey, photos };
}

const made = makeSurvey(21, 'plaster');

test('a tape gives 4 to 14 marks after the clicked ones, each along its tape only', () => {
  const photo = withReadings(made).photos[0]!;
  const more = withTapeMarks(photo).marks.slice(photo.marks.length);
  expect(more.length).toBeGreaterThanOrEqual(8);
  expect(more.length).toBeLessThanOrEqual(14);
  for (const mark of more) {
    const image = imageFromWall(made.cameras[0]!, { ...mark, out: made.truth(mark.along, mark.up) });
    expect(mark.only).toBe('along');
    expect(Math.abs(mark.u - image.u)).toBeLessThan(4 * mark.sigma);
  }
  expect(listTapeMarks(photo).every(({ tape }) => tape === 0)).toBe(true);
});

test('a tape not read, not legible, misnamed or with too few graduations gives none', () => {
  const photoOf = (change: (read: TapeReading) => TapeReading) => withReadings(made, change).photos[0]!;
  expect(withTapeMarks(made.survey.photos[0]!)).toBe(made.survey.photos[0]);
  for (const photo of [
    photoOf((read) => ({ ...read, legible: false })),
    photoOf((read) => ({ ...read, misnamedMm: 100 })),
    photoOf((read) => ({ ...read, graduations: read.graduations.slice(0, 4) })),
  ])
    expect(withTapeMarks(photo)).toBe(photo);
});

test('on a wall whose face is known graduations make the sideways place of the phone better known', () => {
  const flat = makeSurvey(24, 'plaster', { truth: () => -60 });
  const [bare, read] = [flat.survey.photos[0]!, withTapeMarks(withReadings(flat).photos[0]!)].map((photo) =>
    resectPhoto(
      { ...photo, lines: [] },
      { k1: 0, sigma: 0.01 },
      { markOutMm: photo.marks.map(() => -60), markOutSigmaMm: 0 },
    ),
  );
  expect(read!.agrees).toBe(true);
  // a graduation is one observation, a click two
  expect(read!.redundancy - bare!.redundancy).toBe(read!.markResiduals.length - bare!.markResiduals.length);
  expect(read!.covariance[0]!).toBeLessThan(0.8 * bare!.covariance[0]!);
  expect(read!.suspectMarks).toEqual([]);
});

test('before the wall is known its swells are not voted into the place of the phone', () => {
  for (const index of [0, 2, 4]) {
    const [bare, read] = [made.survey.photos[index]!, withTapeMarks(withReadings(made).photos[index]!)].map(
      (photo) =>
        resectPhoto(
          { ...photo, lines: [] },
          { k1: 0, sigma: 0.01 },
          { markOutMm: photo.marks.map(() => -60) },
        ),
    );
    const moved = Math.abs(read!.camera.position.along - bare!.camera.position.along);
    expect(moved).toBeLessThan(2 * Math.sqrt(bare!.covariance[0]!));
  }
});

test('where clicks and graduations contradict each other, the click that is off is the one named', () => {
  const flat = makeSurvey(22, 'plaster', { truth: () => -60 });
  const photo = withReadings(flat).photos[0]!;
  const marks = photo.marks.map((mark, i) => (i === 2 ? { ...mark, u: mark.u + 14 } : mark));
  const wrong = withTapeMarks({ ...photo, lines: [], marks });
  const context = { markOutMm: wrong.marks.map(() => -60), markOutSigmaMm: 0 };
  const lens = { k1: flat.k1, sigma: 0.01 };
  expect(resectPhoto(wrong, lens, context).suspectMarks[0]).toBe(2);
  expect(listBlunders(wrong, lens, context)[0]).toEqual({ kind: 'mark', mark: 2 });
});

test('a photo with graduations at its clicks is not said to have two marks at one place', () => {
  const photo = withReadings(made).photos[0]!;
  const graduations = photo.tapes[0]!.read!.graduations.map((each) => ({ ...each }));
  const near = {
    ...photo,
    marks: photo.marks.map((mark) => ({ ...mark, u: graduations[60]!.u, along: 710 })),
  };
  expect(() => withTapeMarks(near)).not.toThrow();
  const one = {
    ...photo,
    marks: [...photo.marks, { ...listTapeMarks(photo)[3]!.mark, only: undefined, sigma: 1 }],
  };
  expect(() => resectPhoto(withTapeMarks({ ...one, lines: [] }), { k1: 0, sigma: 0.01 })).not.toThrow();
});

test('read tapes make the whole wall better', () => {
  const small = makeSurvey(23, 'plaster', { width: 2400, levels: [500, 1700], plumbs: [1200], everyPx: 6 });
  const errorOf = (survey: Survey) => {
    const { profiles } = solveSurvey(survey);
    const misses = profiles.flatMap(({ s, out }, k) => {
      const { axis, at } = survey.photos[k]!.lines[0]!.sheet;
      return Array.from(s, (place, i) =>
        axis === 'level' ? out[i]! - small.truth(place, at!) : out[i]! - small.truth(at!, place),
      );
    });
    return Math.sqrt(misses.reduce((sum, x) => sum + x * x, 0) / misses.length);
  };
  const clicked = errorOf(small.survey);
  const read = errorOf(withReadings(small));
  expect(read).toBeLessThan(clicked);
  expect(read).toBeGreaterThan(0.02);
}, 60_000);
