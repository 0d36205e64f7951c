import { lab } from 'd3';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { chooseBanding } from '../../src/draw/bands.ts';

test('law: levels are whole multiples of the step, inside the range, at most so many bands', () => {
  const depth = fc.double({ min: -80, max: 80, noNaN: true });
  fc.assert(
    fc.property(
      depth,
      fc.double({ min: 0.1, max: 90, noNaN: true }),
      fc.constantFrom('mm', 'inch'),
      (least, range, units) => {
        const { stepMm, levels, colours } = chooseBanding(least, least + range, 9, units);
        expect(colours).toHaveLength(levels.length + 1);
        expect(levels.length).toBeLessThanOrEqual(9);
        for (const level of levels) {
          expect(Math.abs(level / stepMm - Math.round(level / stepMm))).toBeLessThan(1e-9);
          expect(level > least && level < least + range).toBe(true);
        }
      },
    ),
    { seed: 5, numRuns: 100 },
  );
});

test('an even bed is one band', () => {
  expect(chooseBanding(7, 7, 9, 'mm')).toMatchObject({ levels: [], colours: [expect.any(String)] });
});

test('the wash darkens from band to band, so that it reads in grey and to the colour-blind', () => {
  const { colours } = chooseBanding(0, 45, 9, 'mm');
  const lightness = colours.map((colour) => lab(colour).l);
  expect(colours).toHaveLength(9);
  for (let k = 1; k < lightness.length; k++) expect(lightness[k]!).toBeLessThan(lightness[k - 1]! - 3);
});

// WCAG 2.2, 1.4.3: 4.5 : 1 for text; relative luminance as defined there
test('pencil figures keep their contrast on the darkest band', () => {
  const luminance = (hex: string) => {
    const [r, g, b] = [1, 3, 5].map((at) => {
      const share = parseInt(hex.slice(at, at + 2), 16) / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    }) as [number, number, number];
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const darkest = chooseBanding(0, 45, 9, 'mm').colours.at(-1)!;
  expect((luminance(darkest) + 0.05) / (luminance('#23262b') + 0.05)).toBeGreaterThan(4.5);
});
