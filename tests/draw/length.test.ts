import fc from 'fast-check';
import { expect, test } from 'vitest';
import { formatLength, writeLength } from '../../src/draw/length.ts';

test('mm are rounded to what is asked, without a bare minus or trailing noughts', () => {
  expect([17.24, 17.26, 0.2, -0.2, -3.3].map((mm) => writeLength(mm, 'mm', 0.5))).toEqual([
    '17',
    '17.5',
    '0',
    '0',
    '-3.5',
  ]);
  expect(writeLength(52.04, 'mm', 0.1)).toBe('52');
  expect(writeLength(NaN, 'mm', 1)).toBe('-');
});

test('inches are whole numbers and reduced fractions', () => {
  expect([25.4, 12.7, 3.175, 0.3, -6.35, 1016].map((mm) => writeLength(mm, 'inch', 1))).toEqual([
    '1',
    '1/2',
    '1/8',
    '0',
    '-1/4',
    '40',
  ]);
  expect(writeLength(17.5, 'inch', 0.5)).toBe('11/16');
  expect(formatLength(10.32, 'inch', 0.5)).toBe('13/32 in');
});

test('law: what is written reads back within half a step', () => {
  const read = (text: string) => {
    const negative = text.startsWith('-');
    const sum = text
      .replace('-', '')
      .split(' ')
      .reduce((all, part) => {
        const [top, bottom] = part.split('/').map(Number);
        return all + top! / (bottom ?? 1);
      }, 0);
    return negative ? -sum : sum;
  };
  fc.assert(
    fc.property(fc.double({ min: -5000, max: 5000, noNaN: true }), (mm) => {
      expect(Math.abs(read(writeLength(mm, 'inch', 0.5)) * 25.4 - mm)).toBeLessThanOrEqual(25.4 / 64 + 1e-9);
      expect(Math.abs(Number(writeLength(mm, 'mm', 0.5)) - mm)).toBeLessThanOrEqual(0.25 + 1e-9);
    }),
    { seed: 2, numRuns: 200 },
  );
});
