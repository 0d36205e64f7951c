import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { placeProfile, profileReach } from '../../../src/core/line/profile.ts';

const WIDTH = 4;
const ROWS = 2 * profileReach(WIDTH) + 1;
const MIDDLE = (ROWS - 1) / 2;

/** A line of full width 4 rows: a Gaussian of the given height at `centre` on a sloping ground, clipped at `limit`. */
function makeProfile(centre: number, height = 60, limit = Infinity, ground = 20, slope = 0): Float32Array {
  const sigma = WIDTH / 2.3548;
  return Float32Array.from({ length: ROWS }, (_, j) =>
    Math.min(limit, ground + slope * (j - MIDDLE) + height * Math.exp(-0.5 * ((j - centre) / sigma) ** 2)),
  );
}
const place = (profile: Float32Array) => placeProfile(profile, MIDDLE, 3, WIDTH);

describe('placeProfile', () => {
  // linear interpolation of a sampled Gaussian's flanks is what is left: 0.02 px
  test('finds a line wherever it lies between two rows, on a sloping ground', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -2, max: 2, noNaN: true }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (shift, slope) => {
          const { row, amplitude } = place(makeProfile(MIDDLE + shift, 60, Infinity, 20, slope));
          expect(Math.abs(row - MIDDLE - shift)).toBeLessThan(0.02);
          expect(amplitude).toBeGreaterThan(55);
        },
      ),
      { seed: 3, numRuns: 200 },
    );
  });

  test('a clipped core is placed by its flanks', () => {
    for (const shift of [-0.7, -0.3, 0, 0.2, 0.5]) {
      const { row, widthRows } = place(makeProfile(MIDDLE + shift, 2000, 255));
      // steep flanks sampled at whole rows
      expect(Math.abs(row - MIDDLE - shift)).toBeLessThan(0.06);
      expect(widthRows).toBeGreaterThan(1.5 * WIDTH);
    }
  });

  test('height and ground make no difference to where and how wide a line is', () => {
    const one = place(makeProfile(MIDDLE + 0.3, 10, Infinity, 0));
    const other = place(makeProfile(MIDDLE + 0.3, 200, Infinity, 50));
    expect(other.row).toBeCloseTo(one.row, 4);
    expect(other.widthRows).toBeCloseTo(one.widthRows, 4);
    expect(one.widthRows).toBeCloseTo(WIDTH, 0);
  });

  test('flat ground, a hollow and an edge are no line', () => {
    expect(place(makeProfile(MIDDLE, 0)).row).toBeNaN();
    expect(place(makeProfile(MIDDLE, -15)).row).toBeNaN();
    const edge = Float32Array.from({ length: ROWS }, (_, j) => (j < MIDDLE ? 10 : 200));
    const { row, amplitude, noise } = place(edge);
    expect(Number.isNaN(row) || amplitude < 3 * noise || amplitude < 120).toBe(true);
  });

  test('a second line beside it is told, as a share of its height', () => {
    const profile = makeProfile(MIDDLE, 100);
    makeProfile(MIDDLE + 7, 80, Infinity, 0).forEach((value, j) => (profile[j]! += value));
    const { row, secondShare } = place(profile);
    expect(Math.abs(row - MIDDLE)).toBeLessThan(0.5);
    expect(secondShare).toBeGreaterThan(0.6);
    expect(secondShare).toBeLessThan(0.95);
    expect(place(makeProfile(MIDDLE, 100)).secondShare).toBeLessThan(0.4);
  });

  test('a lopsided line leans', () => {
    const profile = makeProfile(MIDDLE, 100);
    makeProfile(MIDDLE + 3, 60, Infinity, 0).forEach((value, j) => (profile[j]! += value));
    expect(place(profile).skewRows).toBeLessThan(-0.2);
    expect(Math.abs(place(makeProfile(MIDDLE + 0.1, 100)).skewRows)).toBeLessThan(0.1);
  });

  test('noise of the ground is told', () => {
    const profile = makeProfile(MIDDLE, 100).map((value, j) => value + (j % 2 ? 4 : -4));
    const { noise } = place(profile);
    expect(noise).toBeGreaterThan(3);
    expect(noise).toBeLessThan(7);
  });
});
