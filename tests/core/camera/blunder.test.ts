import { describe, expect, test } from 'vitest';
import { listBlunders } from '../../../src/core/camera/blunder.ts';
import { chiSquare999 } from '../../../src/core/camera/chiSquare.ts';
import { resectPhoto } from '../../../src/core/camera/resect.ts';
import type { Photo } from '../../../src/core/survey.ts';
import {
  aimCamera,
  makePhoto,
  makeRandomView,
  measureStand,
  startChance,
  takeLine,
  takeMarks,
  FOUR_PLACES,
} from './madePhoto.ts';

const LENS = { k1: 0, sigma: 0.01 };

/** Seeded noisy photographs, each with the same mistake. */
function takePhotos(count: number, markCount: number, spoil: (photo: Photo) => Photo): Photo[] {
  const chance = startChance(77);
  return Array.from({ length: count }, () => {
    const { camera, places } = makeRandomView(chance, markCount, 600);
    const marks = takeMarks(camera, places, { chance });
    return spoil(makePhoto(camera, { marks, stand: measureStand(camera, ['off', 'up'], { chance }) }));
  });
}

const changeMark = (photo: Photo, i: number, by: Partial<Photo['marks'][number]>): Photo => ({
  ...photo,
  marks: photo.marks.map((mark, k) => (k === i ? { ...mark, ...by } : mark)),
});

describe('marks_suspect', () => {
  test('nothing wrong: nothing suspect in 20 photos but by chance, and no blunder', () => {
    const photos = takePhotos(20, 4, (photo) => photo);
    const found = photos.map((photo) => resectPhoto(photo, LENS));
    // 8 coordinates at 0.1 % each: 0.3 expected
    expect(found.filter(({ suspectMarks }) => suspectMarks.length > 0).length).toBeLessThan(3);
    expect(found.filter(({ agrees }) => !agrees).length).toBeLessThan(2);
    expect(photos.flatMap((photo) => listBlunders(photo, LENS)).length).toBeLessThan(3);
  });

  test('a mark typed wrong by 100 mm is found and named first, in 10 of 10 photos with five marks', () => {
    const photos = takePhotos(10, 5, (photo) => changeMark(photo, 3, { along: photo.marks[3]!.along + 100 }));
    for (const photo of photos) {
      const { suspectMarks, agrees, markResiduals } = resectPhoto(photo, LENS);
      expect(agrees).toBe(false);
      expect(suspectMarks).toContain(3);
      expect(markResiduals[3]!.w).toBeGreaterThan(3.29);
      expect(listBlunders(photo, LENS)[0]).toEqual({ kind: 'mark', mark: 3 });
    }
  });

  test('two marks swapped are found and named as swapped, in 8 of 8 photos', () => {
    const photos = takePhotos(8, 4, (photo) => {
      const [first, second] = photo.marks;
      const turned = changeMark(photo, 0, { along: second!.along, up: second!.up });
      return changeMark(turned, 1, { along: first!.along, up: first!.up });
    });
    for (const photo of photos) {
      const { suspectMarks, agrees } = resectPhoto(photo, LENS);
      expect(agrees).toBe(false);
      expect(suspectMarks.length).toBeGreaterThan(0);
      expect(listBlunders(photo, LENS)).toEqual([{ kind: 'swapped', first: 0, second: 1 }]);
    }
  });

  test('a distance typed wrong by half a metre is found as that, in 8 of 8 photos', () => {
    const photos = takePhotos(8, 6, (photo) => ({
      ...photo,
      stand: { ...photo.stand, off: photo.stand.off! + 500 },
    }));
    for (const photo of photos) {
      const { priorResiduals } = resectPhoto(photo, LENS);
      expect(priorResiduals.some(({ name, w }) => name === 'off' && Math.abs(w) > 3.29)).toBe(true);
      expect(listBlunders(photo, LENS)[0]).toEqual({ kind: 'stand', measure: 'off' });
    }
  });
});

test('marks at odds are told before the line is blamed', () => {
  const camera = aimCamera({ along: 900, up: 1900, out: 2600 }, { along: 1800, up: 1200 });
  const [a, b, c, d] = takeMarks(camera, FOUR_PLACES);
  const marks = [{ ...a!, along: d!.along, up: d!.up }, b!, c!, { ...d!, along: a!.along, up: a!.up }];
  const photo = makePhoto(camera, { marks, lines: [takeLine(camera, 'level', 1000)] });
  const found = resectPhoto(photo, LENS);
  expect(found.agrees).toBe(false);
  expect(found.markRmsPx).toBeGreaterThan(50);
});

test('two marks and the least stand: nothing is over, so nothing can be said against them', () => {
  const camera = aimCamera({ along: 900, up: 1900, out: 2600 }, { along: 1800, up: 1200 });
  const photo = makePhoto(camera, {
    marks: takeMarks(camera, [FOUR_PLACES[0]!, { ...FOUR_PLACES[3]!, along: 2950 }]),
  });
  const { redundancy, agrees } = resectPhoto(photo, LENS);
  expect(redundancy).toBe(0);
  expect(agrees).toBe(true);
  expect(listBlunders(photo, LENS)).toEqual([]);
});

// chi-square table, 99.9 %: 1: 10.828, 4: 18.467, 10: 29.588, 30: 59.703 (Abramowitz & Stegun, table 26.8; from memory)
test.each([
  [1, 10.828],
  [4, 18.467],
  [10, 29.588],
  [30, 59.703],
])('the 0.999 point of chi-square with %i degrees is %d', (degrees, value) => {
  expect(Math.abs(chiSquare999(degrees) / value - 1)).toBeLessThan(0.035);
});
