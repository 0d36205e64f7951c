import fc from 'fast-check';
import { expect, test } from 'vitest';
import { resectPhoto } from '../../../src/core/camera/resect.ts';
import { triangulateLine } from '../../../src/core/camera/triangulate.ts';
import type { Profile } from '../../../src/core/results.ts';
import {
  findPlace,
  fitShift,
  interpolate,
  NO_SHIFT,
  orderRun,
  rangeInside,
} from '../../../src/ui/photo/run.ts';
import { makeSurvey } from '../../truth/survey.ts';

const { survey } = makeSurvey(51, 'plaster', { everyPx: 40 });

test('a plumb line told from the floor up runs down the picture', () => {
  const photo = survey.photos.find((each) => each.lines[0]!.sheet.axis === 'plumb')!;
  const line = photo.lines[0]!;
  const { camera } = resectPhoto(photo, { k1: 0, sigma: 0.01 });
  const found = triangulateLine(camera, line);
  const run = orderRun(found, 'v');
  expect(run.px.length).toBe(line.points.length);
  for (let i = 1; i < run.px.length; i++) {
    expect(run.px[i]!).toBeGreaterThan(run.px[i - 1]!);
    expect(run.s[i]!).toBeLessThan(run.s[i - 1]!);
  }
  expect(line.points[run.index[0]!]!.v).toBe(run.px[0]);
});

test('the place of a value among rising numbers agrees with a search from the left', () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 0, max: 50 })),
      fc.integer({ min: -1, max: 51 }),
      (numbers, value) => {
        const rising = [...numbers].sort((a, b) => a - b);
        const plain = rising.findIndex((each) => each >= value);
        expect(findPlace(rising, value)).toBe(plain < 0 ? rising.length : plain);
      },
    ),
    { seed: 52 },
  );
});

test('interpolation is exact on a straight line and says nothing outside it', () => {
  expect(interpolate([0, 4, 10], [1, 9, 21], 7)).toBe(15);
  expect(interpolate([0, 4, 10], [1, 9, 21], 10)).toBe(21);
  expect(interpolate([0, 4, 10], [1, 9, 21], 10.1)).toBeNaN();
  expect(interpolate([], [], 1)).toBeNaN();
});

test('the shift to a solved profile is the straight line between the two', () => {
  const n = 40;
  const numbers = (value: (i: number) => number) => Float64Array.from({ length: n }, (_, i) => value(i));
  const run = {
    px: numbers((i) => 100 + 10 * i),
    s: numbers((i) => 50 * i),
    out: numbers((i) => -60 + 3 * Math.sin(i)),
    sigma: new Float64Array(n),
    index: Int32Array.from({ length: n }, (_, i) => i),
  };
  // the same wall as the solution has it: nearer by 4 mm and turned by 2 mm in a metre; told from the other end
  const back = (i: number) => n - 1 - i;
  const solved: Profile = {
    photo: 'f1',
    line: 'l1',
    axis: 'level',
    atMm: 0,
    s: numbers((i) => run.s[back(i)]!),
    out: numbers((i) => run.out[back(i)]! + 4 + 0.002 * run.s[back(i)]!),
    sigma: numbers(() => 1),
    u: numbers((i) => run.px[back(i)]!),
    v: numbers(() => 0),
  };
  const shift = fitShift(run, solved, 'u');
  expect(shift.out).toBeCloseTo(4, 9);
  expect(shift.slope).toBeCloseTo(0.002, 12);
  expect(fitShift(run, { ...solved, u: solved.u.map((u) => u + 9999) }, 'u')).toEqual(NO_SHIFT);
});

test('the range of a chart leaves few outliers outside and is never too flat', () => {
  const values = Array.from({ length: 1000 }, (_, i) => i / 100);
  expect(rangeInside([...values, 5000, -5000], 0.005, 0, 4).high).toBeLessThan(10);
  expect(rangeInside([3, 3, 3], 0.005, 0, 4)).toEqual({ low: 1, high: 5 });
});
