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
  ['6,2 cm', 'inch', 62],
  ['2 m 45 cm', 'mm', 2450],
] as const)('%s typed in %s', (text, units, mm) => {
  expect(parseLength(text, units)).toBeCloseTo(mm, 9);
});

// 25.4 mm to the inch, exactly, and 12 inches to the foot: NIST Handbook 44, Appendix C (international inch of 1959)
test.each([
  ['61 1/2"', 61.5],
  ['61-1/2', 61.5],
  ['61½', 61.5],
  ['61 ½ ″', 61.5],
  ['61.5 in', 61.5],
  ['61,5 in.', 61.5],
  ['11/16', 11 / 16],
  ['1 11/16', 27 / 16],
  ['3⁄8 inch', 3 / 8],
  [`5' 1 1/2"`, 61.5],
  ['5′ 1½″', 61.5],
  [`5'-1 1/2"`, 61.5],
  ['5 ft 1 1/2 in', 61.5],
  [`5’ 1.5’’`, 61.5],
  [`5' 1`, 61],
  [`5'`, 60],
  [`-2' 6"`, -30],
] as const)('%s is %f inches', (text, inches) => {
  expect(parseLength(text, 'inch')).toBeCloseTo(inches * 25.4, 9);
});

test('feet and inches are told by their signs in a survey in mm too', () => {
  expect(parseLength(`61 1/2"`, 'mm')).toBeCloseTo(1562.1, 9);
  expect(parseLength(`5' 1 1/2`, 'mm')).toBeCloseTo(1562.1, 9);
});

test.each([
  ...[
    '',
    ' ',
    '"',
    'abc',
    '1/0',
    '12 mm mm',
    '1e5',
    '--3',
    '3 furlongs',
    '1.2.3',
    '61 11/2',
    '1 200',
    '12 -',
    '5,',
  ],
  ...[`5' 14"`, `5.5' 1"`, `5' 2 cm`, '2 m 45', '1/2 1/2', '61 1/2 1/4', 'mm 5', '1//2'],
])('"%s" is no length', (text) => {
  expect(parseLength(text, 'mm')).toBeNaN();
});

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

test('any length is read back to half of the last step shown, whatever the usual unit is', () => {
  const lengths = fc.double({ min: -40_000, max: 40_000, noNaN: true });
  fc.assert(
    fc.property(lengths, fc.integer({ min: 0, max: 3 }), (mm, digits) => {
      const halfStep = 0.5 * 10 ** -digits + 1e-9;
      for (const usual of ['mm', 'inch'] as const) {
        expect(Math.abs(parseLength(formatLength(mm, 'mm', digits), usual) - mm)).toBeLessThanOrEqual(
          halfStep,
        );
        expect(Math.abs(parseLength(formatLength(mm, 'inch'), usual) - mm)).toBeLessThanOrEqual(
          25.4 / 32 + 1e-9,
        );
      }
    }),
    {
      seed: 5,
      examples: [
        [17.4625, 1],
        [-17.4625, 1],
        [0.3, 0],
      ],
    },
  );
});

test('every sixteenth below two inches is read back exactly', () => {
  for (let sixteenths = -32; sixteenths <= 32; sixteenths++) {
    const mm = (sixteenths * 25.4) / 16;
    expect(parseLength(lengthText(mm, 'inch'), 'inch'), lengthText(mm, 'inch')).toBeCloseTo(mm, 9);
  }
});

test('a missing value is a dash, and a measured one carries its sigma', () => {
  expect(lengthText(NaN, 'mm')).toBe('–');
  expect(formatMeasured(-60.04, 0.71, 'mm')).toBe('−60.0 ± 0.7 mm');
  expect(formatLength(3600, 'mm')).toBe('3600 mm');
  expect(formatLength(0.2, 'inch')).toBe('0 in');
});
