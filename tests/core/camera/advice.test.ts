import { describe, expect, test } from 'vitest';
import { advisePhoto } from '../../../src/core/camera/advice.ts';
import { expectPlan, type PhotoPlan } from '../../../src/core/camera/plan.ts';
import { resectPhoto } from '../../../src/core/camera/resect.ts';
import { knownSheet } from '../../../src/core/camera/sheet.ts';
import { triangulateLine } from '../../../src/core/camera/triangulate.ts';
import { seedRandom } from '../../truth/random.ts';
import { makeSurvey } from '../../truth/survey.ts';

const plan: PhotoPlan = {
  wall: { width: 3600, height: 2450 },
  sheet: { axis: 'level', at: 750 },
  stand: { along: 1800, up: 1700, out: 2850 },
  focal35Mm: 27,
  longSidePx: 4032,
  shortSidePx: 3024,
  lens: { k1: 0, sigma: 0.01 },
  markCount: 4,
  markSigmaPx: 1,
  standSigmaMm: 10,
  pointSigmaPx: 0.1,
  readingSigmaMm: 0.7,
  roomMm: 4000,
};

const advise = (part: Partial<PhotoPlan>) => advisePhoto({ ...plan, ...part });
const codesOf = (part: Partial<PhotoPlan>) => advise(part).advice.map(({ code }) => code);
const stand = (part: Partial<PhotoPlan['stand']>) => ({ stand: { ...plan.stand, ...part } });

test('expected errors are those of made photographs resected, within a factor of 1.3 over 128 of them', () => {
  let [realised, expected, count] = [0, 0, 0];
  for (let seed = 1; seed <= 16; seed++) {
    const k1 = 0.01 * seedRandom(seed + 900).normal();
    const focalRatio = Math.exp(0.03 * seedRandom(seed + 99).normal());
    const made = makeSurvey(seed, 'plaster', { k1, focalRatio, everyPx: 16 });
    made.survey.photos.forEach((photo, index) => {
      const line = photo.lines[0]!;
      const sheet = knownSheet(line);
      const worth = expectPlan({ ...plan, sheet, stand: made.cameras[index]!.position });
      const context = { markOutMm: photo.marks.map(() => -60), markOutSigmaMm: 8 };
      const { camera } = resectPhoto(photo, plan.lens, context);
      const { s, out } = triangulateLine(camera, line);
      const truth = s.map((at) =>
        sheet.axis === 'level' ? made.truth(at, sheet.at) : made.truth(sheet.at, at),
      );
      const errors = removeLine(
        s,
        out.map((value, k) => value - truth[k]!),
      );
      realised += errors.reduce((sum, error) => sum + error * error, 0) / errors.length;
      expected += worth.shapeMm ** 2;
      count += 1;
      expect(worth.seenShare).toBe(1);
    });
  }
  expect(count).toBe(128);
  const ratio = Math.sqrt(realised / expected);
  expect(ratio).toBeGreaterThan(1 / 1.3);
  expect(ratio).toBeLessThan(1.3);
});

/** Errors less their straight line along s: readings and crossing lines take that out. */
function removeLine(s: Float64Array, errors: Float64Array): Float64Array {
  const n = errors.length;
  const middle = s.reduce((sum, value) => sum + value / n, 0);
  const shift = errors.reduce((sum, value) => sum + value / n, 0);
  const square = s.reduce((sum, value) => sum + (value - middle) ** 2, 0);
  const tilt = errors.reduce((sum, value, k) => sum + value * (s[k]! - middle), 0) / square;
  return errors.map((value, k) => value - shift - tilt * (s[k]! - middle));
}

describe('what is seen', () => {
  test('is what a square view of that focal length covers', () => {
    // the phone at the height of the line: its middle is at 1800, half the picture less the margin to either side
    const { seen } = expectPlan({ ...plan, stand: { along: 1800, up: 750, out: 2000 } });
    const halfMm = ((0.49 * 4032) / (27 * 112)) * 2000;
    expect(Math.abs(seen!.from - (1800 - halfMm))).toBeLessThan(20);
    expect(Math.abs(seen!.to - (1800 + halfMm))).toBeLessThan(20);
  });
});

describe('advice', () => {
  test('a good stand needs none', () => {
    expect(advise({})).toMatchObject({ advice: [], better: null });
    expect(advise({}).worth.endAngleRad).toBeCloseTo(Math.asin(950 / Math.hypot(1800, 950, 2850)), 6);
  });
  test('too near to the light: higher by as much as a third of the distance wants', () => {
    expect(advise(stand({ up: 900 })).advice).toEqual([{ code: 'higher', byMm: 800 }]);
    expect(advise(stand({ up: 900 })).better!.worth.shapeMm).toBeLessThan(
      0.3 * advise(stand({ up: 900 })).worth.shapeMm,
    );
  });
  test('where the phone would be out of reach: to the other side of the light', () => {
    const { advice, better } = advise({ sheet: { axis: 'level', at: 1200 }, ...stand({ up: 1500 }) });
    expect(advice).toEqual([{ code: 'lower', byMm: expect.closeTo(1250, 6) as number }]);
    expect(better!.stand.up).toBeCloseTo(250, 6);
  });
  test('too near to the wall: back; where the room ends, photographs side by side', () => {
    const [back] = advise(stand({ out: 1800 })).advice;
    expect(back).toMatchObject({ code: 'back' });
    expect(advise(stand({ out: 1800 })).better!.worth.seenShare).toBeGreaterThan(0.985);
    const small = advise({ ...stand({ out: 1800 }), roomMm: 2000 });
    expect(small.advice).toEqual([
      { code: 'back', byMm: 200 },
      { code: 'side_by_side', count: 2 },
    ]);
  });
  test('needlessly far, off to one side, with two marks and a guessed stand: all of it, in that order', () => {
    const poor = { ...stand({ along: 600, out: 3900 }), standSigmaMm: 50, markCount: 2 };
    expect(codesOf(poor)).toEqual(['nearer', 'right', 'marks', 'stand']);
    const { worth, better } = advise(poor);
    expect(better!.worth.shapeMm).toBeLessThan(worth.shapeMm / 2);
  });
  test('a plumb line: to the side', () => {
    const { advice } = advise({ sheet: { axis: 'plumb', at: 1800 }, ...stand({ along: 1900, out: 2000 }) });
    expect(advice.map(({ code }) => code)).toEqual(['right']);
  });
  test('an unknown wide lens: have it checked, and not once it is', () => {
    const wide = { lens: { k1: -0.05, sigma: 0.05 } };
    expect(codesOf(wide)).toContain('lens');
    expect(codesOf({ lens: { k1: -0.05, sigma: 0.0005 } })).not.toContain('lens');
  });
  test('following it never makes the photograph worse', () => {
    for (const up of [200, 700, 1200, 1700, 2100])
      for (const out of [900, 1600, 2400, 3300])
        for (const at of [300, 1200, 2200]) {
          const { worth, better } = advise({ sheet: { axis: 'level', at }, ...stand({ up, out }) });
          if (!better) continue;
          const cost = (each: typeof worth) => (each.shapeMm >= 0 ? each.shapeMm : Infinity);
          const gained = better.worth.seenShare > worth.seenShare + 0.01;
          expect(gained || cost(better.worth) <= 1.02 * cost(worth)).toBe(true);
        }
  });
});
