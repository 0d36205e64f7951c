import fc from 'fast-check';
import { expect, test } from 'vitest';
import { formatLength, formatMeasured, lengthText, parseLength } from '../../src/ui/units.ts';

test.each([
  ['61.5', 'mm', 61.5],
  ['61,5', 'mm', 61.5],
  [' 2450 mm ', 'mm', 2450],
  ['2.45m', 'mm', 2450],
  ['245 cm', 'mm', 2450],
  ['-3', 'mm', -3],
  ['−3', 'mm', -3],
  ['3/4', 'inch', 19.05],
  ['12 1/2', 'inch', 317.5],
  ['12"', 'mm', 304.8],
  ['.5', 'mm', 0.5],
] as const)('%s typed in %s', (text, units, mm) => {
  expect(parseLength(text, units)).toBeCloseTo(mm, 9);
});

test.each(['', 'abc', '1/0', '12 mm mm', '1e5', '--3', '3 furlongs', '1.2.3'])(
  '"%s" is no length',
  (text) => {
    expect(parseLength(text, 'mm')).toBeNaN();
  },
);

test('what is shown is read back: exactly in mm, to a sixteenth in inches', () => {
  fc.assert(
    fc.property(fc.integer({ min: -99999, max: 99999 }), (tenths) => {
      const mm = tenths / 10;
      expect(parseLength(lengthText(mm, 'mm'), 'mm')).toBeCloseTo(mm, 9);
      expect(Math.abs(parseLength(lengthText(mm, 'inch'), 'inch') - mm)).toBeLessThanOrEqual(
        25.4 / 32 + 1e-9,
      );
    }),
    { seed: 3 },
  );
});

test('a missing value is a dash, and a measured one carries its sigma', () => {
  expect(lengthText(NaN, 'mm')).toBe('–');
  expect(formatMeasured(-60.04, 0.71, 'mm')).toBe('−60.0 ± 0.7 mm');
  expect(formatLength(3600, 'mm')).toBe('3600 mm');
  expect(formatLength(0.2, 'inch')).toBe('0 in');
});
