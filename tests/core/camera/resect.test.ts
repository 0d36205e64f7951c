import { describe, expect, test } from 'vitest';
import type { Camera } from '../../../src/core/camera/camera.ts';
import { CAMERA_PARAMETERS } from '../../../src/core/camera/projection.ts';
import { resectPhoto } from '../../../src/core/camera/resect.ts';
import { Refused } from '../../../src/core/refusal.ts';
import type { Photo } from '../../../src/core/survey.ts';
import {
  aimCamera,
  FOUR_PLACES,
  listErrors,
  makePhoto,
  makeRandomView,
  measureStand,
  startChance,
  takeLine,
  takeMarks,
  UNEVEN,
} from './madePhoto.ts';

const UNKNOWN_LENS = { k1: 0, sigma: 0.01 };
/** The lens known as it is: then nothing pulls an exact photograph off the truth. */
const exactLens = (camera: Camera) => ({ k1: camera.k1, sigma: 0.01 });

function expectCamera(got: Camera, truth: Camera, toleranceMm = 1e-6): void {
  const [along, up, out, r0, r1, r2, focal, k1] = listErrors(got, truth).map(Math.abs);
  expect(Math.max(along!, up!, out!)).toBeLessThan(toleranceMm);
  expect(Math.max(r0!, r1!, r2!, focal!, k1!)).toBeLessThan(toleranceMm / 1000);
}

describe('exact photographs are recovered to 1e-6 mm', () => {
  const usual = aimCamera({ along: 900, up: 1900, out: 2600 }, { along: 1800, up: 1200 });
  const cases: [string, Camera, Partial<Photo>][] = [
    ['four marks, off and up measured', usual, { marks: takeMarks(usual, FOUR_PLACES) }],
    [
      'marks all on one horizontal line',
      usual,
      {
        marks: takeMarks(
          usual,
          [500, 1300, 2100, 2900].map((along) => ({ along, up: 759 })),
        ),
      },
    ],
    [
      'marks all on one upright line, all of the stand measured',
      usual,
      {
        marks: takeMarks(
          usual,
          [300, 900, 1500, 2100].map((up) => ({ along: 1750, up })),
        ),
        stand: measureStand(usual, ['off', 'up', 'along']),
      },
    ],
    [
      'only off measured',
      usual,
      { marks: takeMarks(usual, FOUR_PLACES), stand: measureStand(usual, ['off']) },
    ],
    [
      'nothing of the stand measured, four marks',
      usual,
      { marks: takeMarks(usual, FOUR_PLACES), stand: measureStand(usual, []) },
    ],
    [
      'two marks and the whole stand',
      usual,
      {
        marks: takeMarks(usual, [FOUR_PLACES[0]!, FOUR_PLACES[3]!]),
        stand: measureStand(usual, ['off', 'up', 'along']),
      },
    ],
    [
      'two marks at one height, off and up: told from its mirror place by the line',
      usual,
      {
        marks: takeMarks(usual, [FOUR_PLACES[0]!, FOUR_PLACES[1]!]),
        lines: [takeLine(usual, 'level', 700)],
      },
    ],
  ];
  const square = aimCamera({ along: 1800, up: 1600, out: 2800 }, { along: 1800, up: 1600 }, { rollRad: 0 });
  cases.push(['camera square on', square, { marks: takeMarks(square, FOUR_PLACES) }]);
  const portrait = aimCamera(
    { along: 1200, up: 1700, out: 3000 },
    { along: 1700, up: 1250 },
    { widthPx: 3000, heightPx: 4000 },
  );
  cases.push(['portrait', portrait, { marks: takeMarks(portrait, FOUR_PLACES) }]);
  const tilted = aimCamera(
    { along: 2400, up: 1500, out: 3000 },
    { along: 1800, up: 1200 },
    { rollRad: 0.17 },
  );
  cases.push(['turned 10 degrees about the view', tilted, { marks: takeMarks(tilted, FOUR_PLACES) }]);
  const steep = aimCamera({ along: 1500, up: 500, out: 2300 }, { along: 1800, up: 1150 });
  cases.push(['tilted 15 degrees upwards', steep, { marks: takeMarks(steep, FOUR_PLACES.slice(1)) }]);
  const aside = aimCamera({ along: -700, up: 1900, out: 2000 }, { along: 1300, up: 1200 }, { focalPx: 2700 });
  cases.push([
    'from far aside, 45 degrees',
    aside,
    {
      marks: takeMarks(
        aside,
        [300, 900, 1800, 2600].map((along, i) => ({ along, up: 500 + 400 * i })),
      ),
    },
  ]);

  test.each(cases)('%s', (_, camera, parts) => {
    const { ended, camera: got, markRmsPx } = resectPhoto(makePhoto(camera, parts), exactLens(camera));
    expect(ended).toBe('converged');
    expectCamera(got, camera);
    expect(markRmsPx).toBeLessThan(1e-8);
  });

  test('marks on an uneven wall, their offsets given', () => {
    const marks = takeMarks(usual, FOUR_PLACES, { relief: UNEVEN });
    const markOutMm = FOUR_PLACES.map(({ along, up }) => UNEVEN(along, up));
    expectCamera(resectPhoto(makePhoto(usual, { marks }), exactLens(usual), { markOutMm }).camera, usual);
  });

  test('missing EXIF: focal length from six marks in perspective', () => {
    const places = [...FOUR_PLACES, { along: 1700, up: 1300 }, { along: 2300, up: 700 }];
    // marks so sharp that the wide prior about 26 mm says nothing beside them
    const marks = takeMarks(usual, places, { sigmaPx: 1e-4 });
    const photo = makePhoto(usual, { marks, focal35Mm: null });
    const { camera } = resectPhoto(photo, exactLens(usual));
    expectCamera(camera, usual, 1e-3);
    expect(resectPhoto({ ...photo, focal35Mm: 0 }, exactLens(usual)).camera).toEqual(camera);
  });

  test('k1 held is kept as it is, with no sigma', () => {
    const photo = makePhoto(usual, { marks: takeMarks(usual, FOUR_PLACES) });
    const held = resectPhoto(photo, { k1: usual.k1, sigma: 0.01 }, { holdK1: true });
    expectCamera(held.camera, usual);
    expect(held.k1Sigma).toBe(0);
    expect(held.camera.k1).toBe(usual.k1);
    expect(held.redundancy).toBe(4);
    expect(resectPhoto(photo, { k1: usual.k1, sigma: 0 }).camera).toEqual(held.camera);
  });
});

describe('what must not matter', () => {
  const chance = startChance(8);
  const { camera, places } = makeRandomView(chance, 5);
  const photo = makePhoto(camera, {
    marks: takeMarks(camera, places, { chance }),
    stand: measureStand(camera, ['off', 'up'], { chance }),
  });
  const found = resectPhoto(photo, UNKNOWN_LENS);

  test('where `along` is counted from', () => {
    const marks = photo.marks.map((mark) => ({ ...mark, along: mark.along + 5000 }));
    const moved = resectPhoto({ ...photo, marks }, UNKNOWN_LENS);
    expect(moved.camera.position.along - found.camera.position.along).toBeCloseTo(5000, 5);
    expect(moved.camera.position.out).toBeCloseTo(found.camera.position.out, 5);
    expect(moved.covariance[0]! / found.covariance[0]!).toBeCloseTo(1, 6);
  });

  test('the order of the marks', () => {
    const turned = resectPhoto({ ...photo, marks: [...photo.marks].reverse() }, UNKNOWN_LENS);
    listErrors(turned.camera, found.camera).forEach((error) => expect(Math.abs(error)).toBeLessThan(1e-5));
    expect(turned.markResiduals[4]!.uPx).toBeCloseTo(found.markResiduals[0]!.uPx, 6);
  });

  test('the size of the picture: half as many pixels, half the sigma', () => {
    const half = photo.marks.map((mark) => ({
      ...mark,
      u: (mark.u + 0.5) / 2 - 0.5,
      v: (mark.v + 0.5) / 2 - 0.5,
      sigma: mark.sigma / 2,
    }));
    const small = { ...photo, marks: half, widthPx: photo.widthPx! / 2, heightPx: photo.heightPx! / 2 };
    const { camera: got } = resectPhoto(small, UNKNOWN_LENS);
    expect(got.focalPx * 2).toBeCloseTo(found.camera.focalPx, 4);
    expect(got.position.along).toBeCloseTo(found.camera.position.along, 4);
    expect(got.position.up).toBeCloseTo(found.camera.position.up, 4);
    expect(got.position.out).toBeCloseTo(found.camera.position.out, 4);
  });

  test('which run it is', () => {
    expect(resectPhoto(photo, UNKNOWN_LENS)).toEqual(found);
  });
});

/** Errors over their stated sigma, per parameter, of seeded noisy photographs, and how many of them were refused as weak. */
function sampleErrors(
  trials: number,
  markCount: number,
  measured: readonly ('off' | 'up' | 'along')[],
  exif: boolean,
) {
  const chance = startChance(100 + markCount);
  const squares = new Float64Array(8);
  let [chiSquare, redundancy, worst, taken, refused] = [0, 0, 0, 0, 0];
  for (let trial = 0; trial < trials; trial++) {
    const { camera, places } = makeRandomView(chance, markCount);
    const photo = makePhoto(camera, {
      marks: takeMarks(camera, places, { chance }),
      stand: measureStand(camera, measured, { chance }),
      lines: [takeLine(camera, 'level', camera.position.up - camera.position.out / 3)],
      focal35Mm: exif ? (camera.focalPx / 4000) * 36 * Math.exp(chance.normal(0.04)) : null,
    });
    try {
      const found = resectPhoto(photo, UNKNOWN_LENS);
      expect(found.ended).toBe('converged');
      listErrors(found.camera, camera).forEach((error, k) => {
        const w = error / Math.sqrt(found.covariance[k * (CAMERA_PARAMETERS + 1)]!);
        squares[k]! += w * w;
        worst = Math.max(worst, Math.abs(w));
      });
      chiSquare += found.chiSquare;
      redundancy += found.redundancy;
      taken += 1;
    } catch (error) {
      expect(error).toBeInstanceOf(Refused);
      refused += 1;
    }
  }
  return {
    meanSquares: squares.map((sum) => sum / taken),
    worst,
    chiShare: chiSquare / redundancy,
    refused,
  };
}

describe('noisy photographs: errors are what the covariance says, neither more nor less', () => {
  // the mean of n squares has sigma sqrt(2 / n): 0.13 at 120 trials; limits at 3.5 of them
  test.each([
    ['four marks, off and up, EXIF', 4, ['off', 'up'], true],
    ['six marks, off only, EXIF', 6, ['off'], true],
    ['three marks, whole stand, EXIF', 3, ['off', 'up', 'along'], true],
  ] as const)('%s', (_, count, measured, exif) => {
    const { meanSquares, worst, chiShare, refused } = sampleErrors(120, count, measured, exif);
    for (const square of meanSquares) {
      expect(square).toBeGreaterThan(0.55);
      expect(square).toBeLessThan(1.45);
    }
    expect(worst).toBeLessThan(5);
    expect(chiShare).toBeGreaterThan(0.8);
    expect(chiShare).toBeLessThan(1.2);
    // a stand measured to 10 mm and marks clicked to 1 px are never weak
    expect(refused).toBe(0);
  });

  test('six marks, nothing measured and no EXIF: the right place, but for the few that are refused', () => {
    const { meanSquares, worst, refused } = sampleErrors(50, 6, [], false);
    // the focal length drawn is not spread like the wide prior, so only the upper side tells
    for (const square of meanSquares) expect(square).toBeLessThan(1.7);
    expect(worst).toBeLessThan(5);
    expect(refused).toBeLessThan(4);
  });
});

test('marks on a wall not yet known: their offsets as uncertain as they are, 100 noisy photographs agree', () => {
  const chance = startChance(41);
  const squares = new Float64Array(8);
  let [chiSquare, redundancy, agreed, agreedBlindly] = [0, 0, 0, 0];
  for (let trial = 0; trial < 100; trial++) {
    const { camera, places } = makeRandomView(chance, 5);
    const relief = new Map(places.map((place) => [place.along, chance.normal(8)]));
    const photo = makePhoto(camera, {
      marks: takeMarks(camera, places, { chance, relief: (along) => relief.get(along)! }),
      stand: measureStand(camera, ['off', 'up'], { chance }),
      focal35Mm: (camera.focalPx / 4000) * 36 * Math.exp(chance.normal(0.04)),
    });
    const markOutMm = places.map(() => 0);
    const found = resectPhoto(photo, UNKNOWN_LENS, { markOutMm, markOutSigmaMm: 8 });
    listErrors(found.camera, camera).forEach((error, k) => {
      squares[k]! += error ** 2 / found.covariance[k * (CAMERA_PARAMETERS + 1)]! / 100;
    });
    chiSquare += found.chiSquare;
    redundancy += found.redundancy;
    if (found.agrees) agreed += 1;
    if (resectPhoto(photo, UNKNOWN_LENS, { markOutMm }).agrees) agreedBlindly += 1;
  }
  for (const square of squares) {
    expect(square).toBeGreaterThan(0.5);
    expect(square).toBeLessThan(1.5);
  }
  expect(chiSquare / redundancy).toBeGreaterThan(0.8);
  expect(chiSquare / redundancy).toBeLessThan(1.2);
  expect(agreed).toBeGreaterThan(97);
  // taken as exact, the same offsets make good marks look wrong
  expect(agreedBlindly).toBeLessThan(70);
});

test('a photo without its picture size is a bug, not a refusal', () => {
  const { camera, places } = makeRandomView(startChance(1), 4);
  const photo = makePhoto(camera, { marks: takeMarks(camera, places), widthPx: undefined });
  expect(() => resectPhoto(photo, UNKNOWN_LENS)).toThrow(/expected the picture's size in px, got undefined/);
});

test('two marks at one height and no line: the mirror place is told as a rival', () => {
  const camera = aimCamera({ along: 1000, up: 1500, out: 2600 }, { along: 1800, up: 1200 });
  const photo = makePhoto(camera, { marks: takeMarks(camera, [FOUR_PLACES[0]!, FOUR_PLACES[1]!]) });
  const found = resectPhoto(photo, exactLens(camera));
  expect(found.rival).not.toBeNull();
  const places = [found.camera.position.along, found.rival!.along].sort((a, b) => a - b);
  expect(places[0]).toBeCloseTo(1000, 3);
  // as far beyond the marks' middle at 1800
  expect(places[1]).toBeCloseTo(2600, 3);
});
